import { OutOfRange } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bedDepth,
  expectedFlow,
  type FlowReading,
  permeabilityOf,
  remedies,
  USUAL_PERMEABILITY_M2,
  underletCost,
  watchBed,
} from './bed-flow.ts';

const SHAPE = { areaM2: 0.9, depthM: 0.35 };

describe('flow through the bed', () => {
  // Practice (from memory): 5-10 L/min m², 0.35 m, 2-2.5 kPa, 0.6 mPa s: k 0.9 to 1.4e-11 (derived).
  it('practice works back to the usual permeability', () => {
    const k = permeabilityOf(
      { areaM2: 1, depthM: 0.35 },
      { flowLMin: 7, headKPa: 2.25, plato: 13, tC: 76 },
    );
    expect(k).toBeGreaterThan(0.8e-11);
    expect(k).toBeLessThan(1.6e-11);
  });

  it('expected flow and permeability are each other’s inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 40, noNaN: true }),
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 22, noNaN: true }),
        (flowLMin, headKPa, plato) => {
          const state = { headKPa, plato, tC: 75 };
          const k = permeabilityOf(SHAPE, { ...state, flowLMin });
          expect(expectedFlow(SHAPE, k, state)).toBeCloseTo(flowLMin, 9);
        },
      ),
    );
  });

  // Field table: 20-45 cm (common practice, no source).
  it('149 kg on 0.9 m² lie 35 cm deep', () => {
    expect(bedDepth(149, 0.9)).toBeCloseTo(0.348, 3);
    expect(() => bedDepth(149, 0)).toThrow(OutOfRange);
  });
});

/** Readings of a bed whose permeability goes its own way while the wort thins. */
function course(of: (minute: number) => number): FlowReading[] {
  return Array.from({ length: 8 }, (_, i) => {
    const minute = 5 * i;
    const state = { headKPa: 1.5, plato: Math.max(4, 18 - 2 * i), tC: 75 };
    return { minute, ...state, flowLMin: expectedFlow(SHAPE, 1.1e-11 * of(minute), state) };
  });
}

describe('a bed that closes', () => {
  it('a steady bed is let run, though the flow itself rises as the wort thins', () => {
    const readings = course(() => 1);
    expect(readings.at(-1)?.flowLMin).toBeGreaterThan(readings[0]?.flowLMin ?? 0);
    expect(watchBed(SHAPE, readings).state).toBe('running');
  });

  it('is seen before it is stuck, even while the flow still looks fair', () => {
    const closing = watchBed(SHAPE, course((t) => Math.exp(-t / 20)).slice(0, 4));
    expect(closing.state).toBe('closing');
    expect(closing.halfFlowInMin).toBeCloseTo(20 * Math.LN2, 6);
    expect(closing.permeabilityShare).toBeGreaterThan(0.2);
    expect(
      watchBed(
        SHAPE,
        course((t) => Math.exp(-t / 15)),
      ).state,
    ).toBe('stuck');
  });

  it('a tap that gives nothing is stuck, a high pull is named', () => {
    const [first] = course(() => 1) as [FlowReading];
    expect(watchBed(SHAPE, [first, { ...first, minute: 5, flowLMin: 0 }]).state).toBe('stuck');
    const pulled = { ...first, headKPa: 3, flowLMin: 2 * first.flowLMin };
    expect(watchBed(SHAPE, [pulled]).headTooHigh).toBe(true);
    expect(watchBed(SHAPE, [pulled]).sentence).toMatch(/throttle/);
  });

  it('knows the kit’s own history', () => {
    const history = Array.from({ length: 10 }, (_, i) => 1.1e-11 * (1 + 0.02 * (i % 3)));
    const slow = course(() => 0.7);
    expect(watchBed(SHAPE, slow, history).state).toBe('closing');
    expect(watchBed(SHAPE, slow).state).toBe('running');
    expect(USUAL_PERMEABILITY_M2.low).toBeLessThan(USUAL_PERMEABILITY_M2.high);
  });
});

describe('remedies', () => {
  const full = { extractKg: 105, waterKg: 850 };
  const bed = { state: 'stuck', liquidL: 268, full, spargeLeftL: 200, underletC: 77 } as const;

  it('mildest first, each with what it costs', () => {
    const steps = remedies(bed);
    expect(steps.map((s) => s.what)).toEqual([
      'close-and-wait',
      'underlet',
      'cut-the-bed',
      'stir-and-settle',
      'next-time',
    ]);
    expect(remedies({ ...bed, state: 'running' }).map((s) => s.what)).toEqual(['throttle']);
    const underlet = steps[1];
    expect(underlet?.liquorL).toBeCloseTo(21.4, 1);
    expect(underlet?.platoChange.offTheSparge).toBe(0);
    expect(underlet?.platoChange.onTop).toBeLessThan(-0.2);
  });

  it('an underlet thins by its water once no sparge is left to give up', () => {
    const cost = underletCost(full, 50, 0);
    expect(cost.offTheSparge).toBe(cost.onTop);
    // 50 L at 0.973 kg/L into 955 kg (mass balance).
    expect(cost.onTop).toBeCloseTo(10500 / (955 + 48.65) - 10500 / 955, 9);
    expect(() => underletCost(full, -1, 0)).toThrow(OutOfRange);
  });
});
