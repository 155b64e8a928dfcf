import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brewDay, type Decoction, type PotLoad, potLoads } from './day.ts';
import { share } from './size.ts';
import { ONE_PULL, THREE_BARRELS } from './three-barrels.ts';

const load = (capacityL: number, part: number) => ({ capacityL, part }) as PotLoad;

describe('a pull over several pots', () => {
  it('goes by the parts, and what one cannot hold goes to the others', () => {
    expect(share(30, [load(40, 2), load(40, 1)])).toEqual([20, 10]);
    expect(share(50, [load(20, 3), load(60, 1)])).toEqual([20, 30]);
  });

  it('keeps every litre, and none over the brim while there is room', () => {
    const loads = fc.array(
      fc.tuple(
        fc.double({ min: 1, max: 99, noNaN: true }),
        fc.double({ min: 0.1, max: 9, noNaN: true }),
      ),
      { minLength: 1, maxLength: 5 },
    );
    fc.assert(
      fc.property(loads, fc.double({ min: 0, max: 1, noNaN: true }), (pairs, full) => {
        const list = pairs.map(([capacityL, part]) => load(capacityL, part));
        const roomL = list.reduce((sum, l) => sum + l.capacityL, 0);
        const given = share(full * roomL, list);
        expect(given.reduce((a, b) => a + b, 0)).toBeCloseTo(full * roomL, 8);
        given.forEach((litres, k) => {
          expect(litres).toBeLessThanOrEqual((list[k] as PotLoad).capacityL * (1 + 1e-9));
        });
      }),
    );
  });

  it('by power: as the burners, so that all boil together', () => {
    const [pull] = ONE_PULL.mash.raises as [Decoction];
    const raise: Decoction = { ...pull, pots: ['kettle', 'stock'], order: 'side-by-side' };
    const day = brewDay({ ...ONE_PULL, kit: THREE_BARRELS });
    // 55 kW of a gas burner at 0.35 against 9 kW of a hob at 0.4.
    const [kettle, stock] = share(60, potLoads(day, { ...raise, split: 'by-power' }));
    expect((kettle as number) / (stock as number)).toBeCloseTo((55 * 0.35) / (9 * 0.4), 9);
    const [byRoom, stockByRoom] = share(60, potLoads(day, raise));
    expect((byRoom as number) / (stockByRoom as number)).toBeCloseTo(520 / 40, 9);
  });
});
