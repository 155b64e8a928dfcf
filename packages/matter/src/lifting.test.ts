import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  compositeLiftingIndex,
  frequencyMultiplier,
  frequencyOverPeriod,
  type Lift,
  liftingLimit,
} from './lifting.ts';

// DHHS (NIOSH) 94-110, rev. 9/2021 (public domain).
interface Niosh {
  readonly table5: { readonly rows: readonly (readonly (number | string)[])[] };
  readonly table7: { readonly rows: readonly (readonly [string, number, number])[] };
  readonly examples: readonly {
    readonly id: string;
    readonly F?: number;
    readonly F_exact?: number;
    readonly CLI?: number;
    readonly tasks?: readonly { readonly F: number; readonly FILI: number }[];
    readonly metric?: {
      readonly L_kg: number;
      readonly H: number;
      readonly V: number;
      readonly D: number;
      readonly A: number;
      readonly FM: number;
      readonly CM: number;
      readonly RWL: number;
      readonly LI: number;
    };
  }[];
}
const niosh = readDocument<Niosh>('niosh-lifting.json');
const example = (start: string) => {
  const found = niosh.examples.find((e) => e.id.startsWith(start));
  if (found === undefined) throw new Error(`no example ${start}`);
  return found;
};

const ideal: Lift = {
  horizontalCm: 25,
  verticalCm: 75,
  travelCm: 25,
  asymmetryDeg: 0,
  liftsPerMin: 0.2,
  hours: 1,
  coupling: 'good',
};

it('nobody should lift more than 23 kg, even at best', () => {
  expect(liftingLimit(ideal).limitKg).toBeCloseTo(23, 12);
});

describe('Table 5, every cell', () => {
  it.each(niosh.table5.rows.map((row) => [String(row[0]), row] as const))(
    '%s lifts a minute',
    (name, row) => {
      const f = name.startsWith('>') ? 15.5 : Number(name);
      const columns = [
        [1, 74],
        [1, 75],
        [2, 74],
        [2, 75],
        [8, 74],
        [8, 75],
      ] as const;
      for (const [i, [hours, v]] of columns.entries()) {
        expect(frequencyMultiplier(f, hours, v), `${hours} h, V ${v}`).toBe(row[i + 1]);
      }
    },
  );
});

it.each(niosh.table7.rows)('Table 7: %s grip', (coupling, low, high) => {
  const lift = { ...ideal, coupling: coupling as Lift['coupling'] };
  expect(liftingLimit({ ...lift, verticalCm: 74.9 }).multipliers.coupling).toBe(low);
  expect(liftingLimit({ ...lift, verticalCm: 75 }).multipliers.coupling).toBe(high);
});

describe('Tables 1 to 4, the manual rounded half up', () => {
  // Rows of the manual (from memory), its three exceptions left out.
  it.each([
    [25, 1.0],
    [28, 0.89],
    [30, 0.83],
    [40, 0.63],
    [50, 0.5],
    [63, 0.4],
    [64, 0],
  ])('H %d cm: %d', (h, hm) => {
    const { horizontal } = liftingLimit({ ...ideal, horizontalCm: h }).multipliers;
    expect(Math.round(horizontal * 100 + 1e-9) / 100).toBe(hm);
  });
  it.each([
    [0, 0.78],
    [30, 0.87],
    [100, 0.93],
    [175, 0.7],
    [176, 0],
  ])('V %d cm: %d', (v, vm) => {
    const { vertical } = liftingLimit({ ...ideal, verticalCm: v }).multipliers;
    expect(Math.round(vertical * 100 + 1e-9) / 100).toBe(vm);
  });
  it.each([
    [20, 1.0],
    [40, 0.93],
    [70, 0.88],
    [175, 0.85],
    [176, 0],
  ])('D %d cm: %d', (d, dm) => {
    const { distance } = liftingLimit({ ...ideal, travelCm: d }).multipliers;
    expect(Math.round(distance * 100 + 1e-9) / 100).toBe(dm);
  });
  it.each([
    [0, 1.0],
    [45, 0.86],
    [90, 0.71],
    [135, 0.57],
    [136, 0],
  ])('A %d degrees: %d', (a, am) => {
    const { asymmetry } = liftingLimit({ ...ideal, asymmetryDeg: a }).multipliers;
    expect(Math.round(asymmetry * 100 + 1e-9) / 100).toBe(am);
  });
});

describe('worked examples', () => {
  it('p. 16: lifts spread over a quarter of an hour', () => {
    expect(frequencyOverPeriod(10, 8)).toBeCloseTo(example('p.16 special').F ?? Number.NaN, 2);
    expect(frequencyOverPeriod(10, 5)).toBeCloseTo(example('p.16 second').F_exact ?? Number.NaN, 3);
  });

  it('p. 28: three tasks together (from memory; the manual rounds its single indices)', () => {
    const { tasks = [], CLI } = example('p.28');
    const index = compositeLiftingIndex(
      tasks.map((t) => ({ liftsPerMin: t.F, frequencyIndependentIndex: t.FILI })),
      1,
      75,
    );
    expect(index).toBeCloseTo(1.868, 1.9);
    expect(Math.round(index * 10) / 10).toBe(CLI);
  });

  it('practice problem (no source): 12 kg over 95 cm', () => {
    const { metric } = example('homework');
    if (metric === undefined) throw new Error('no practice problem');
    // FM .88 is the row of 3 lifts a minute for an hour; fair grip below 75 cm.
    const lift: Lift = {
      horizontalCm: metric.H,
      verticalCm: metric.V,
      travelCm: metric.D,
      asymmetryDeg: metric.A,
      liftsPerMin: 3,
      hours: 1,
      coupling: 'fair',
    };
    const { limitKg, index, multipliers } = liftingLimit(lift, metric.L_kg);
    expect(multipliers.frequency).toBe(metric.FM);
    expect(multipliers.coupling).toBe(metric.CM);
    // It rounds the distance multiplier; full precision gives 15.677.
    expect(limitKg).toBeCloseTo(15.677, 2);
    expect(Math.abs(limitKg - metric.RWL)).toBeLessThan(0.03);
    expect(index).toBeCloseTo(metric.LI, 1.7);
  });

  // Derived brewhouse cases: load, H, V, D, A, grip, limit, index.
  it.each([
    ['bucket with 10 L of mash', 11.5, 30, 10, 100, 0, 'good', 12.5, 0.92],
    ['the same over a rim', 11.5, 45, 110, 80, 30, 'good', 8.5, 1.35],
    ['24 kg pot held badly', 24, 40, 60, 40, 45, 'poor', 9.3, 2.6],
  ] as const)('%s', (_, load, h, v, d, a, coupling, limit, li) => {
    const lift: Lift = {
      horizontalCm: h,
      verticalCm: v,
      travelCm: d,
      asymmetryDeg: a,
      liftsPerMin: 1,
      hours: 1,
      coupling,
    };
    const { limitKg, index } = liftingLimit(lift, load);
    expect(Math.abs(limitKg - limit)).toBeLessThan(0.06);
    expect(Math.abs((index ?? Number.NaN) - li)).toBeLessThan(0.015);
  });
});

it('a forbidden lift has no limit to keep', () => {
  expect(liftingLimit({ ...ideal, horizontalCm: 70 }, 5)).toMatchObject({
    limitKg: 0,
    index: Infinity,
  });
  expect(liftingLimit(ideal).index).toBeUndefined();
});

it('further, higher, faster, longer, more twisted: never easier', () => {
  const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(
      num(0, 80),
      num(80, 200),
      num(0, 200),
      num(0, 150),
      num(0, 16),
      num(0.1, 7),
      (h, v, d, a, f, hours) => {
        const lift: Lift = {
          ...ideal,
          horizontalCm: h,
          verticalCm: v,
          travelCm: d,
          asymmetryDeg: a,
          liftsPerMin: f,
          hours,
        };
        const { limitKg } = liftingLimit(lift);
        for (const harder of [
          { ...lift, horizontalCm: h + 5 },
          { ...lift, verticalCm: v + 5 },
          { ...lift, travelCm: d + 5 },
          { ...lift, asymmetryDeg: a + 5 },
          { ...lift, liftsPerMin: f + 0.5 },
          { ...lift, hours: hours + 1 },
        ]) {
          expect(liftingLimit(harder).limitKg).toBeLessThanOrEqual(limitKg + 1e-9);
        }
      },
    ),
  );
});

it('refuses what no body can do', () => {
  expect(() => liftingLimit({ ...ideal, horizontalCm: -1 })).toThrow(OutOfRange);
  expect(() => liftingLimit({ ...ideal, hours: 12 })).toThrow(OutOfRange);
  expect(() => liftingLimit(ideal, Number.NaN)).toThrow(OutOfRange);
  expect(() => compositeLiftingIndex([], 1, 75)).toThrow(OutOfRange);
});
