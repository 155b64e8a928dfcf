import { describe, expect, test } from 'vitest';
import { drawsFor } from './ensemble.ts';
import type { DayEntry } from './live.ts';
import { aheadOf } from './live-ahead.ts';
import { keepDay } from './live-keeper.ts';
import { minuteOf } from './live-session.ts';
import { hiddenDay, movesFor, TWO_PULLS, tempReading, upTo } from './live-testing.ts';
import { curveAt } from './plan-day.ts';

const MOVES = movesFor(TWO_PULLS);
const [TRUTH] = drawsFor(TWO_PULLS.kit, 20, 99);
if (TRUTH === undefined) throw new Error('no draw');
const HIDDEN = hiddenDay(TWO_PULLS, MOVES, TRUTH);
const DRAWS = { draws: 80 };

/** Taps up to the first boil, with the tun read every fifteen minutes once the mash is in. */
function entriesTo(moveId: string): DayEntry[] {
  const taps = [...upTo(HIDDEN.taps, 'done', moveId)];
  const end = minuteOf(taps.at(-1) as DayEntry);
  const mashedIn = HIDDEN.trace.moves.find((m) => m.id === 'mash-in')?.endMin ?? 0;
  for (let t = mashedIn + 5; t < end; t += 15)
    taps.push(tempReading(HIDDEN, 'tun', t, TRUTH?.thermometerK ?? 0));
  return taps.sort((a, b) => minuteOf(a) - minuteOf(b));
}

describe('what stood in the vessels', () => {
  const keeper = keepDay(TWO_PULLS, MOVES, DRAWS);
  const entries = entriesTo('boil-1');
  const now = minuteOf(entries.at(-1) as DayEntry) + 3;
  const curves = keeper.history(entries, now);

  test('runs from the first entry to now, never back in time', () => {
    for (const curve of curves) {
      expect(curve.timeMin.at(-1)).toBeCloseTo(now, 9);
      for (let i = 1; i < curve.timeMin.length; i++)
        expect(curve.timeMin[i]).toBeGreaterThanOrEqual(curve.timeMin[i - 1] as number);
    }
  });

  test('follows a tun that was read within a kelvin', () => {
    const tun = curves.find((c) => c.vessel === 'tun');
    const mashedIn = HIDDEN.trace.moves.find((m) => m.id === 'mash-in')?.endMin ?? 0;
    for (let t = mashedIn + 6; t < now; t += 7) {
      const drawn = curveAt(tun?.timeMin ?? [], tun?.tempC ?? [], t);
      expect(Math.abs(drawn - HIDDEN.tempC('tun', t))).toBeLessThan(1);
    }
  });

  test('shows the pull leave the tun and stand in the kettle', () => {
    const pull = HIDDEN.trace.moves.find((m) => m.id === 'pull-1');
    const litres = (vessel: string, at: number) => {
      const curve = curves.find((c) => c.vessel === vessel);
      return curveAt(curve?.timeMin ?? [], curve?.volumeL ?? [], at);
    };
    const [before, after] = [(pull?.startMin ?? 0) - 1, (pull?.endMin ?? 0) + 1];
    const left = litres('tun', before) - litres('tun', after);
    const came = litres('kettle', after) - litres('kettle', before);
    expect(left).toBeGreaterThan(10);
    expect(Math.abs(came - left)).toBeLessThan(0.1 * left);
  });

  test('a vessel nobody touches is where it was, also just after an entry elsewhere', () => {
    const kettle = curves.find((c) => c.vessel === 'kettle');
    const mashedIn = HIDDEN.trace.moves.find((m) => m.id === 'mash-in')?.endMin ?? 0;
    const pull = HIDDEN.trace.moves.find((m) => m.id === 'pull-1')?.startMin ?? 0;
    kettle?.timeMin.forEach((t, i) => {
      if (t <= mashedIn + 1 || t >= pull - 0.1 || i === 0) return;
      const step = Math.abs((kettle.tempC[i] as number) - (kettle.tempC[i - 1] as number));
      expect(step).toBeLessThan(2.5);
    });
  });

  test('an undo draws the day as if the entry had not been made', () => {
    const undone = entries.slice(0, -1);
    const fresh = keepDay(TWO_PULLS, MOVES, DRAWS).history(undone, now);
    expect(keeper.history(undone, now)).toEqual(fresh);
  });
});

describe('what is to come, for drawing', () => {
  const session = keepDay(TWO_PULLS, MOVES, DRAWS).at(entriesTo('boil-1'));
  const ahead = aheadOf(session, session.lastMin);

  test('goes on from what stands there, with the moves that are left', () => {
    expect(ahead.trace.moves.map((m) => m.id)).toEqual(
      MOVES.slice(MOVES.findIndex((m) => m.id === 'return-1')).map((m) => m.id),
    );
    const tun = ahead.trace.curves.find((c) => c.vessel === 'tun');
    expect(tun?.timeMin[0]).toBeCloseTo(session.lastMin, 6);
    expect(Math.abs((tun?.tempC[0] ?? 0) - HIDDEN.tempC('tun', session.lastMin))).toBeLessThan(1);
  });

  test('the likely line lies in its band', () => {
    for (const band of ahead.curveBands) {
      const line = ahead.trace.curves.find((c) => c.vessel === band.vessel);
      band.timeMin.forEach((t, i) => {
        // Between portions the line steps where the band is smeared over the ensemble's clocks.
        const likely = curveAt(line?.timeMin ?? [], line?.tempC ?? [], t);
        expect(band.lowC[i] as number).toBeLessThanOrEqual(band.highC[i] as number);
        expect(likely).toBeGreaterThan((band.lowC[i] as number) - 2.5);
        expect(likely).toBeLessThan((band.highC[i] as number) + 2.5);
      });
    }
  });
});
