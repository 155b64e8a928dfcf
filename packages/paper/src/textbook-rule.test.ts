import { readFileSync } from 'node:fs';
import { type PlanDocument, planDay, type ReturnRuler, returnRulers } from '@ladlework/planner';
import { describe, expect, test } from 'vitest';
import { litresOn } from './alignment.ts';
import { rulerScales } from './ruler-range.ts';
import { documentOf } from './testing.ts';

/** The two-pull example on a kit that loses nothing, carries in no time, and boils nothing off. */
function lossless(): PlanDocument {
  const document = documentOf(JSON.parse(readFileSync('examples/two-pull.json', 'utf8')));
  const { kit, mash, day } = document;
  return {
    ...document,
    kit: {
      ...kit,
      vessels: kit.vessels.map((v) => ({
        ...v,
        wallKJK: 0,
        lossWK: 0,
        lid: true,
        deadL: 0,
        diameterM: 0.1,
      })),
      routes: kit.routes.map((r) => ({
        ...r,
        minutesPerPortion: 0.001,
        openAreaM2: 0,
        carrierKJK: 0,
        lineL: 0,
      })),
    },
    mash: {
      ...mash,
      raises: mash.raises.map((r) =>
        r.by === 'decoction' ? { ...r, thickness: 'as-it-comes' as const, boilMinutes: 0.01 } : r,
      ),
    },
    day,
  };
}

describe('on a kit without losses', () => {
  const document = lossless();
  const plan = planDay(document, { draws: 50 });
  const rulers = returnRulers(
    document,
    plan.moves.map((m) => m.move),
  );

  test('there is a chart for each of two returns', () => {
    expect(rulers).toHaveLength(2);
  });

  /**
   * K = G (T2 - T1) / (Td - T1): litres of boiled mash of G litres in all. School form, M. Metzger
   * 1996, brewing trade journal 6/96 (reference/physics.md 3.3). In litres of the rest: what stays
   * is G - K, so K = (G - K) (T2 - T1) / (Td - T2). Volumes are those of the mash before it was
   * heated, so the swelling of hot mash is divided out.
   */
  test.each([0, 1])('return %i is the mixing rule of the handbooks', (n) => {
    const ruler = rulers[n] as ReturnRuler;
    const found = rulerScales(ruler);
    if (found === undefined) throw new Error('no chart');
    const takeL = plan.returns[n]?.takeL as number;
    const swollen = ruler.haveL / takeL;
    // Heating and thin air cost a little water all the same.
    expect(swollen).toBeGreaterThan(0.97);
    expect(swollen).toBeLessThan(1.05);
    let tried = 0;
    for (const tun of [0.2, 0.4, 0.6, 0.8])
      for (const arrival of [0.3, 0.6, 0.9]) {
        const tunC = found.tunC.low + tun * (found.tunC.high - found.tunC.low);
        const arrivalC = found.arrivalC.low + arrival * (found.arrivalC.high - found.arrivalC.low);
        const read = litresOn(found.scales, tunC, arrivalC, found.litres.low, found.litres.high);
        if (read === undefined) continue;
        tried++;
        const rule = (ruler.tunL * (ruler.targetC - tunC)) / (arrivalC - ruler.targetC);
        expect(read / swollen / rule).toBeGreaterThan(0.98);
        expect(read / swollen / rule).toBeLessThan(1.02);
      }
    expect(tried).toBeGreaterThan(4);
  });
});
