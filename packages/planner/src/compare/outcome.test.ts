import { type Kit, type Move, NOMINAL, type Trace } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import { brewDay } from '../day.ts';
import { ONE_PULL, THREE_BARRELS } from '../three-barrels.ts';
import { outcomeOf } from './outcome.ts';

const PRICES = { perHour: 30, perKWh: 0.25 };

/** 10 kW taken in, half of it into the pot. */
const KIT: Kit = {
  ...THREE_BARRELS,
  burners: [
    {
      id: 'jet',
      name: 'burner',
      kind: 'gas-burner',
      heats: ['kettle'],
      ratedKW: 10,
      efficiency: 0.5,
    },
  ],
};
const HEAT: Move = {
  id: 'h',
  kind: 'heat',
  vessel: 'kettle',
  burner: 'jet',
  to: 80,
  lidOn: true,
  hands: ['B'],
};
const BACK: Move = {
  id: 'r',
  kind: 'return',
  from: 'kettle',
  to: 'tun',
  route: 'bucket',
  hands: ['B', 'H'],
};

/** Twelve minutes of heat, 3600 kJ, then six minutes of two people carrying 42 kg. */
function traceOf(): Trace {
  const move = { vessels: [], fromC: 60, toC: 70, volumeL: 40, evaporatedKg: 0 };
  const none = { curves: [], mashCurves: [], problems: [], end: { minute: 18, vessels: [] } };
  return {
    ...(none as unknown as Trace),
    ledger: { burnerKJ: 3600 } as Trace['ledger'],
    moves: [
      { ...move, id: 'h', kind: 'heat', hands: ['B'], startMin: 0, endMin: 12 },
      {
        ...move,
        id: 'r',
        kind: 'return',
        hands: ['B', 'H'],
        startMin: 12,
        endMin: 18,
        transfer: { kg: 42 } as NonNullable<Trace['moves'][number]['transfer']>,
      },
    ],
  };
}

describe('outcome of a played day, by hand', () => {
  const day = brewDay({ ...ONE_PULL, kit: KIT });
  it('counts time, hands, loads, energy and money', () => {
    const outcome = outcomeOf(day, [HEAT, BACK], traceOf(), NOMINAL, PRICES);
    expect(outcome.finishH).toBeCloseTo(0.3, 12);
    expect(outcome.handsBusyMin).toBe(12 + 2 * 6);
    expect(outcome.carriedKg).toBe(42);
    // 3600 kJ is 1 kWh in the pot, 2 kWh of gas.
    expect(outcome.energyKWh).toBeCloseTo(2, 12);
    expect(outcome.cost).toBeCloseTo((24 / 60) * 30 + 2 * 0.25, 12);
  });

  it('a pump carries nothing', () => {
    const routes = KIT.routes.map((r) => ({ ...r, how: 'pump' as const }));
    const pumped = brewDay({ ...ONE_PULL, kit: { ...KIT, routes } });
    expect(outcomeOf(pumped, [HEAT, BACK], traceOf(), NOMINAL, PRICES).carriedKg).toBe(0);
  });

  it('a burner stronger than thought makes more of the same gas', () => {
    const strong = { ...NOMINAL, burner: 1.25 };
    const outcome = outcomeOf(day, [HEAT, BACK], traceOf(), strong, PRICES);
    expect(outcome.energyKWh).toBeCloseTo(2 / 1.25, 12);
  });
});
