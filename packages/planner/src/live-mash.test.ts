import { NOMINAL } from '@ladlework/brewhouse';
import { describe, expect, test } from 'vitest';
import { mashEngines } from './grist.ts';
import { mashNow, rescueNow } from './live-mash.ts';
import { minuteOf, openDay } from './live-session.ts';
import { applyAll, hiddenDay, movesFor, TWO_PULLS, upTo } from './live-testing.ts';
import { DO_NOT_PASS_C, RESCUE_C } from './starch.ts';

const MOVES = movesFor(TWO_PULLS);
const HIDDEN = hiddenDay(TWO_PULLS, MOVES, NOMINAL, mashEngines(TWO_PULLS.beer)(NOMINAL));
const after = (kind: 'begun' | 'done', moveId: string) => {
  const taps = upTo(HIDDEN.taps, kind, moveId);
  const session = applyAll(openDay(TWO_PULLS, MOVES, { draws: 8 }), taps);
  return { session, atMin: minuteOf(taps.at(-1) ?? { kind: 'done', moveId, atMin: 0 }) };
};
/** What the same kinetics made of the day in one go, at the last sample up to a minute. */
const simulated = (vessel: string, toMin: number) => {
  const curve = HIDDEN.trace.mashCurves.find((c) => c.vessel === vessel);
  const i = curve?.timeMin.findLastIndex((t) => t <= toMin + 1e-9) ?? -1;
  const [atMin, reading] = [curve?.timeMin[i], curve?.readings[i]];
  if (atMin === undefined || reading === undefined) throw new Error(`no mash in ${vessel}`);
  return { atMin, reading };
};

describe('the mash on a running day', () => {
  test('there is none before the grist is in', () => {
    const { session, atMin } = after('done', 'liquor-in');
    expect(mashNow(session, atMin)).toEqual([]);
    expect(rescueNow(session, 'tun', atMin)).toBeUndefined();
  });

  test.each(['rest-1', 'return-1', 'rest-2'])('after %s it is what one simulation makes', (id) => {
    const whole = simulated('tun', after('done', id).atMin);
    const taps = HIDDEN.taps.filter((t) => minuteOf(t) <= whole.atMin);
    const session = applyAll(openDay(TWO_PULLS, MOVES, { draws: 8 }), taps);
    const tun = mashNow(session, whole.atMin).find((m) => m.vessel === 'tun')?.reading;
    // Heat-ups tapped done draw the burner a little from its plate; the enzymes hardly see it.
    expect(tun?.alphaLeft).toBeCloseTo(whole.reading.alphaLeft, 1.5);
    expect(tun?.betaLeft).toBeCloseTo(whole.reading.betaLeft, 1.5);
    const { extractKg } = whole.reading;
    expect(Math.abs((tun?.extractKg ?? 0) - extractKg)).toBeLessThan(0.02 * extractKg);
  });

  test('enzymes go on being lost while nobody taps', () => {
    const { session, atMin } = after('begun', 'rest-2');
    const beta = (at: number) =>
      mashNow(session, at).find((m) => m.vessel === 'tun')?.reading.betaLeft;
    expect(beta(atMin + 15)).toBeLessThan(beta(atMin) ?? 0);
  });

  test('a boiled pull has no enzyme left', () => {
    const { session, atMin } = after('done', 'boil-1');
    const pot = mashNow(session, atMin).find((m) => m.vessel === 'kettle')?.reading;
    expect(pot?.alphaLeft).toBeLessThan(1e-6);
  });

  test('a blue mash is told what to do and what not to pass; nothing else is moved by asking', () => {
    const { session, atMin } = after('done', 'return-1');
    const before = mashNow(session, atMin);
    const rescue = rescueNow(session, 'tun', atMin);
    expect(rescue?.doNotPassC).toBe(DO_NOT_PASS_C);
    expect(rescue?.holdC).toBe(RESCUE_C);
    // Alpha-amylase lives at 70 °C (field.md section 3, common practice): a rest clears it.
    expect(rescue?.restMin).toBeLessThanOrEqual(40);
    expect(mashNow(session, atMin)).toEqual(before);
  });

  test('without kinetics nothing is known of it', () => {
    const taps = upTo(HIDDEN.taps, 'done', 'rest-1');
    const session = applyAll(openDay(TWO_PULLS, MOVES, { draws: 4, mash: 'off' }), taps);
    expect(mashNow(session, session.lastMin)).toEqual([]);
  });
});
