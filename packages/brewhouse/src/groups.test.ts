import { waterDensity } from '@ladlework/matter';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Kit, Vessel } from './kit.ts';
import type { Move } from './moves.ts';
import { emptyBrewhouse, simulate } from './simulate.ts';

const vessel = (id: string, brimL: number): Vessel => ({
  id,
  name: id,
  role: 'pot',
  brimL,
  diameterM: 0.11 * brimL ** (1 / 3),
  wallKJK: 0.35 * brimL ** (2 / 3),
  lossWK: 0.3 * brimL ** (2 / 3),
  lid: true,
  deadL: 0.3,
});

const kit = (how: 'ladle' | 'bucket' | 'pump', portionL: number, minutes: number): Kit => ({
  id: 'k',
  name: 'k',
  altitudeM: 100,
  airC: 17,
  vessels: [vessel('tun', 200), vessel('pot', 120)],
  burners: [{ id: 'fire', name: 'fire', kind: 'gas-burner', heats: ['pot'], ratedKW: 50 }],
  routes: [
    {
      id: 'r',
      name: 'r',
      how,
      portionL,
      minutesPerPortion: minutes,
      openAreaM2: 0.05,
      carrierKJK: 0.6,
      lineL: 0,
      hands: 1,
    },
  ],
  hands: [{ id: 'B', name: 'B' }],
  burnersIndoors: false,
});

const litresOf = (kg: number, tempC: number) => (1000 * kg) / waterDensity(tempC);

/** Liquor pulled, boiled and returned, up to a stop. */
const moves = (litres: number, stopAtC: number): Move[] => [
  {
    id: 'f',
    kind: 'fill',
    vessel: 'tun',
    litres: litresOf(120, 60),
    tempC: 60,
    minutes: 0,
    hands: [],
  },
  {
    id: 'p',
    kind: 'pull',
    from: 'tun',
    to: 'pot',
    route: 'r',
    litres,
    thickness: 'as-it-comes',
    hands: ['B'],
  },
  { id: 'h', kind: 'heat', vessel: 'pot', burner: 'fire', to: 'boil', lidOn: false, hands: ['B'] },
  { id: 'b', kind: 'boil', vessel: 'pot', burner: 'fire', minutes: 10, power: 0.5, hands: ['B'] },
  { id: 'r', kind: 'return', from: 'pot', to: 'tun', route: 'r', stopAtC, hands: ['B'] },
];

it('portions in three groups land and last as each by itself does', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('ladle', 'bucket', 'pump'),
      fc.double({ min: 1, max: 12, noNaN: true }),
      fc.double({ min: 0.1, max: 0.6, noNaN: true }),
      fc.double({ min: 25, max: 70, noNaN: true }),
      fc.double({ min: 62, max: 95, noNaN: true }),
      (how, portionL, minutes, litres, stopAtC) => {
        const k = kit(how as 'ladle', portionL, minutes);
        const run = (groups?: number) =>
          simulate(k, emptyBrewhouse(k, 17), moves(litres, stopAtC), {
            ...(groups === undefined ? {} : { groups }),
          });
        const [fine, rough] = [run(), run(3)];
        const end = (t: typeof fine) => t.moves.at(-1) as (typeof fine.moves)[number];
        // What is in the tun at the stop is the same; how much went over differs by a portion at most.
        expect(Math.abs(end(rough).toC - end(fine).toC)).toBeLessThan(0.4);
        expect(Math.abs(end(rough).endMin - end(fine).endMin)).toBeLessThan(
          0.03 * end(fine).endMin + minutes,
        );
      },
    ),
    { numRuns: 60 },
  );
});
