import fc from 'fast-check';
import highsLoader from 'highs';
import { describe, expect, it } from 'vitest';
import { type LinearProgramme, solveLinear } from './linear-programme.ts';

describe('by hand', () => {
  it('the corner where two rows meet', () => {
    // x + 2y >= 4 and 3x + y >= 6 meet at (1.6, 1.2): 2x + 3y = 6.8.
    const answer = solveLinear({
      minimise: [2, 3],
      rows: [
        { of: [1, 2], least: 4 },
        { of: [3, 1], least: 6 },
      ],
    });
    if (answer.state !== 'optimal') throw new Error(answer.state);
    expect(answer.x[0]).toBeCloseTo(1.6, 9);
    expect(answer.x[1]).toBeCloseTo(1.2, 9);
    expect(answer.value).toBeCloseTo(6.8, 9);
  });

  it('whole numbers are not the rounded corner', () => {
    // As above in whole numbers: (2, 1) costs 7, and (1, 3) or (4, 0) more.
    const answer = solveLinear({
      minimise: [2, 3],
      rows: [
        { of: [1, 2], least: 4 },
        { of: [3, 1], least: 6 },
      ],
      whole: [0, 1],
    });
    expect(answer).toEqual({ state: 'optimal', x: [2, 1], value: 7 });
  });

  it('rows that exclude each other, sums without an end, rows too short', () => {
    expect(solveLinear({ minimise: [1], rows: [{ of: [1], least: 2, most: 1 }] })).toEqual({
      state: 'infeasible',
    });
    expect(() => solveLinear({ minimise: [-1], rows: [] })).toThrow(/least value/);
    expect(() => solveLinear({ minimise: [1, 1], rows: [{ of: [1], least: 1 }] })).toThrow(/row/);
  });
});

/** Whole-number programmes as small as a store of malts; not every one has an answer. */
const programme: fc.Arbitrary<LinearProgramme> = fc.integer({ min: 2, max: 5 }).chain((n) =>
  fc.record({
    minimise: fc.array(fc.integer({ min: 1, max: 20 }), { minLength: n, maxLength: n }),
    rows: fc.array(
      fc
        .tuple(
          fc.array(fc.integer({ min: -5, max: 9 }), { minLength: n, maxLength: n }),
          fc.integer({ min: -10, max: 60 }),
          fc.integer({ min: 0, max: 40 }),
        )
        .map(([of, least, width]) => ({ of, least, most: least + width })),
      { minLength: 1, maxLength: 4 },
    ),
    whole: fc.subarray(Array.from({ length: n }, (_, i) => i)),
  }),
);

it('agrees with another library on small programmes', async () => {
  const highs = await highsLoader();
  fc.assert(
    fc.property(programme, (p) => {
      const bounded = { ...p, rows: [...p.rows, ...capped(p.minimise.length)] };
      const ours = solveLinear(bounded);
      // HiGHS 1.15.3 has been seen to miss an optimum with its presolve.
      const theirs = highs.solve(lpText(bounded), { presolve: 'off' });
      if (ours.state === 'infeasible') expect(theirs.Status).toBe('Infeasible');
      else {
        expect(ours.state).toBe('optimal');
        expect(theirs.Status).toBe('Optimal');
        if (ours.state === 'optimal') expect(ours.value).toBeCloseTo(theirs.ObjectiveValue, 5);
      }
    }),
    { numRuns: 120, seed: 24 },
  );
});

const capped = (n: number) =>
  Array.from({ length: n }, (_, i) => ({
    of: Array.from({ length: n }, (__, j) => (i === j ? 1 : 0)),
    most: 30,
  }));

function lpText({ minimise, rows, whole = [] }: LinearProgramme): string {
  const sum = (of: readonly number[]) =>
    of.map((a, i) => `${a < 0 ? '-' : '+'} ${Math.abs(a)} x${i}`).join(' ');
  const lines = rows.flatMap(({ of, least, most }) => [
    ...(least === undefined ? [] : [`${sum(of)} >= ${least}`]),
    ...(most === undefined ? [] : [`${sum(of)} <= ${most}`]),
  ]);
  return [
    'Minimize',
    ` obj: ${sum(minimise)}`,
    'Subject To',
    ...lines.map((line, k) => ` r${k}: ${line}`),
    ...(whole.length > 0 ? ['General', ` ${whole.map((i) => `x${i}`).join(' ')}`] : []),
    'End',
  ].join('\n');
}
