import { NOMINAL } from '@ladlework/brewhouse';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PlanDocument } from './document.ts';
import { mashEngines } from './grist.ts';
import { guideReturn } from './live-guide.ts';
import { type DaySession, openDay } from './live-session.ts';
import {
  applyAll,
  hiddenDay,
  KETTLE_MASH,
  movesFor,
  STOVE,
  TWO_PULLS,
  upTo,
} from './live-testing.ts';
import { type ReturnRuler, returnRulers } from './return-ruler.ts';

/** The running day at the beginning of a return, on the likely kit alone, as the page folds it. */
function atReturn(document: PlanDocument, returnId: string): DaySession {
  const moves = movesFor(document);
  const engine = mashEngines(document.beer)(NOMINAL);
  const { taps } = hiddenDay(document, moves, NOMINAL, engine);
  const open = openDay(document, moves, { draws: 1 });
  const likely = { ...open, particles: open.particles.map((p) => ({ ...p, draw: NOMINAL })) };
  return applyAll(likely, upTo(taps, 'begun', returnId));
}

/** The same day with other readings in its vessels. */
function reading(day: DaySession, temps: Readonly<Record<string, number>>): DaySession {
  const particles = day.particles.map((p) => ({
    ...p,
    situation: {
      ...p.situation,
      vessels: p.situation.vessels.map((s) => ({ ...s, tempC: temps[s.vessel] ?? s.tempC })),
    },
  }));
  return { ...day, particles };
}

describe.each([
  ['two pulls by bucket', TWO_PULLS, 'return-1', 0],
  ['two pulls by bucket', TWO_PULLS, 'return-2', 1],
  ['a stove, by ladle', STOVE, 'return-1', 0],
  ['a kettle mash', KETTLE_MASH, 'return-1', 0],
] as const)('%s, %s', (_, document, returnId, index) => {
  const ruler = returnRulers(document, movesFor(document))[index] as ReturnRuler;
  const day = atReturn(document, returnId);

  test('asks for what the guide of the running day asks for', () => {
    const { planned, targetC } = ruler;
    let compared = 0;
    for (const coolerK of [0, 1.5, 3])
      for (const potK of [0, 3, 6]) {
        const tunC = Math.min(targetC - 1, planned.tunC + 2 - coolerK);
        const potC = planned.potC - potK;
        const [pot = ''] = ruler.pots;
        const read = reading(day, { [ruler.tun]: tunC, [pot]: potC });
        const guide = guideReturn(read, { moveId: returnId, nowMin: read.lastMin });
        const need = ruler.need(tunC, potC);
        // All there is, when that is not enough: the two pots differ by what dissolved in them.
        if (!need.reached) continue;
        compared++;
        expect(Math.abs(guide.moreL.likely / need.litres - 1), `${tunC} ${potC}`).toBeLessThan(
          0.004,
        );
      }
    expect(compared).toBeGreaterThan(2);
  });

  test('returns more to a colder or fuller tun, and from a cooler pot', () => {
    const { planned, targetC } = ruler;
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (belowK, potK) => {
          const tunC = targetC - 3 - belowK;
          const potC = planned.potC - potK;
          const need = ruler.need(tunC, potC);
          const colder = ruler.need(tunC - 0.5, potC);
          const cooler = ruler.need(tunC, potC - 1);
          const fuller = ruler.need(tunC, potC, 1.1);
          for (const more of [colder, cooler, fuller])
            if (more.reached) expect(more.litres).toBeGreaterThan(need.litres);
        },
      ),
      { numRuns: 40 },
    );
  });

  test('refuses readings that leave nothing to return', () => {
    const { planned, targetC } = ruler;
    expect(() => ruler.need(targetC + 1, planned.potC)).toThrow(/^tunC is .*give 0\.0 to /);
    expect(() => ruler.need(planned.tunC, targetC - 1)).toThrow(/^potC is /);
    expect(() => ruler.need(planned.tunC, planned.potC, 3)).toThrow(/^tunShare is 3; give 0\.5/);
  });
});
