import { describe, expect, test } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { applyEntry } from '../live-apply.ts';
import { forecastDay } from '../live-forecast.ts';
import { openDay, shownBy } from '../live-session.ts';
import { meanParticle, vesselIn } from '../live-step.ts';
import { applyAll, hiddenDay, movesFor, STOVE, TWO_PULLS, upTo } from '../live-testing.ts';
import type { Miss } from './miss-types.ts';

/** A day after one tap, and the same with a miss told a minute later. */
function after(document: PlanDocument, kind: 'begun' | 'done', moveId: string) {
  const moves = movesFor(document);
  const truth = openDay(document, moves, { mash: 'off', draws: 1 }).particles[0];
  if (!truth) throw new Error('no particle');
  const taps = upTo(hiddenDay(document, moves, truth.draw).taps, kind, moveId);
  const day = applyAll(openDay(document, moves, { draws: 60, seed: 3 }), taps);
  const tell = (miss: Miss, at = day.lastMin + 1) =>
    applyEntry(day, { kind: 'miss', id: 'm1', atMin: at, ...miss });
  return { day, tell };
}

const KITS: [string, PlanDocument][] = [
  ['two vessels', TWO_PULLS],
  ['a stock pot', STOVE],
];

describe.each(KITS)('misses on %s', (_, document) => {
  const pot = after(document, 'begun', 'boil-1');
  const litres = document === STOVE ? 2 : 15;

  test('what is spilled is gone from that vessel and from nowhere else, at the heat it had', () => {
    const before = pot.tell({ code: 'tun-slipped', vessel: 'tun' });
    const now = pot.tell({ code: 'spilled', vessel: 'kettle', litres });
    const m0 = meanParticle(before.particles);
    const m1 = meanParticle(now.particles);
    const kg = (p: typeof m0, id: string) => {
      const s = vesselIn(p, id);
      return s.waterKg + s.solidsKg + s.extractKg;
    };
    expect(kg(m1, 'tun')).toBeCloseTo(kg(m0, 'tun'), 3);
    expect(vesselIn(m1, 'kettle').tempC).toBeCloseTo(vesselIn(m0, 'kettle').tempC, 1);
    expect(now.troubles.lostKg / (kg(m0, 'kettle') - kg(m1, 'kettle'))).toBeCloseTo(1, 1);
    const volume = (s: typeof now) => {
      const shown = shownBy(s, 'kettle', 'volume');
      return shown.reduce((sum, x) => sum + x, 0) / shown.length;
    };
    expect(Math.abs(volume(before) - volume(now) - litres)).toBeLessThan(0.05 * litres);
  });

  test('a burner that is out heats nothing, until it is put right', () => {
    const heating = after(document, 'begun', 'boil-up-1');
    const burner = document.kit.burners[0]?.id as string;
    const out = heating.tell({ code: 'burner-out', thing: burner, vessel: 'kettle' });
    expect(out.finished.has('boil-up-1')).toBe(true);
    const read = (s: typeof out, at: number) =>
      applyEntry(s, { kind: 'miss-over', id: 'm1', atMin: at });
    const c = (s: typeof out) => vesselIn(meanParticle(s.particles), 'kettle').tempC;
    expect(read(out, out.lastMin + 10).troubles.told).toEqual([]);
    const burning = heating.tell({ code: 'tun-slipped' });
    expect(c(out)).toBeGreaterThan(40);
    expect(burning.underway.has('boil-up-1')).toBe(true);
  });

  test('a pot that needs longer ends its heat-up when it was said to', () => {
    const heating = after(document, 'begun', 'boil-up-1');
    const end = (s: typeof heating.day) =>
      forecastDay(s, s.lastMin).moves.find((m) => m.moveId === 'boil-up-1')?.endMin
        .likely as number;
    const usual = end(heating.day) - heating.day.lastMin;
    const told = heating.tell({ code: 'pot-late', vessel: 'kettle', minutes: usual + 12 });
    // The fire is set on the mean of the ensemble, the likely end is its median.
    expect(Math.abs(end(told) - (told.lastMin + usual + 12))).toBeLessThan(0.2 * (usual + 12));
  });

  test('what sticks in the pot does not land: the tun is smaller and cooler than was thought', () => {
    const back = after(document, 'done', 'return-1');
    const before = back.tell({ code: 'stuck', vessel: 'kettle', litres: 1e-6 });
    const now = back.tell({ code: 'stuck', vessel: 'kettle', litres });
    const [a, b] = [before, now].map((s) => vesselIn(meanParticle(s.particles), 'tun'));
    expect(b?.tempC as number).toBeLessThan(a?.tempC as number);
    const total = (s: typeof now) =>
      meanParticle(s.particles).situation.vessels.reduce(
        (sum, v) => sum + v.waterKg + v.solidsKg + v.extractKg,
        0,
      );
    expect(total(now)).toBeCloseTo(total(before), 2);
  });

  test('a scorching pot is heated at half fire, and at full when that is over', () => {
    const heating = after(document, 'begun', 'boil-up-1');
    const end = (s: typeof heating.day) =>
      forecastDay(s, s.lastMin).moves.find((m) => m.moveId === 'boil-up-1')?.endMin
        .likely as number;
    const told = heating.tell({ code: 'scorched', vessel: 'kettle' });
    const over = applyEntry(told, { kind: 'miss-over', id: 'm1', atMin: told.lastMin });
    expect(end(told)).toBeGreaterThan(end(over) + 1);
  });
});
