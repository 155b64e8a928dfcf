import fc from 'fast-check';
import { expect, it } from 'vitest';
import { frontOf } from './front.ts';

const whole = (columns: readonly Float64Array[]): number[] => {
  const steps = frontOf(columns);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
};

/** Every row against every other. */
function byHand(rows: readonly (readonly number[])[]): number[] {
  const noWorse = (a: readonly number[], b: readonly number[]) =>
    a.every((x, k) => x <= (b[k] as number));
  return rows.flatMap((row, i) => {
    const beaten = rows.some(
      (other, j) => j !== i && noWorse(other, row) && (!noWorse(row, other) || j < i),
    );
    return beaten ? [] : [i];
  });
}

const columnsOf = (rows: readonly (readonly number[])[], width: number) =>
  Array.from({ length: width }, (_, k) => Float64Array.from(rows, (r) => r[k] as number));

it('is that of every row against every other, ties and all', () => {
  const table = fc.integer({ min: 1, max: 5 }).chain((width) =>
    fc.tuple(
      fc.constant(width),
      fc.array(fc.array(fc.integer({ min: -3, max: 3 }), { minLength: width, maxLength: width }), {
        maxLength: 60,
      }),
    ),
  );
  fc.assert(
    fc.property(table, ([width, rows]) => {
      expect(whole(columnsOf(rows, width))).toEqual(byHand(rows));
    }),
  );
});

it('holds on columns of very different size', () => {
  const rows = fc.array(
    fc.tuple(
      fc.double({ noNaN: true, min: 0, max: 1e-9 }),
      fc.double({ noNaN: true, min: -1e9, max: 1e9 }),
    ),
    { maxLength: 80 },
  );
  fc.assert(
    fc.property(rows, (list) => {
      expect(whole(columnsOf(list, 2))).toEqual(byHand(list));
    }),
  );
});
