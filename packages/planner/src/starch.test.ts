import { GristEngine, RECOMMENDED_PARAMETERS, STANDARD_MALT } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import { DO_NOT_PASS_C, starchRescue } from './starch.ts';

const fresh = { malt: STANDARD_MALT, parameters: RECOMMENDED_PARAMETERS };
const engine = () => new GristEngine([{ malt: STANDARD_MALT, massKg: 80 }], RECOMMENDED_PARAMETERS);
/** A mash run through these straight stretches: minutes, from, to. */
const after = (e: GristEngine, stretches: [number, number, number][]) => {
  const mash = e.start(80, 280);
  for (const [minutes, fromC, toC] of stretches)
    e.advance(mash, Float64Array.of(0, minutes), Float64Array.of(fromC, toC), 2);
  return mash;
};

// Holding at 70-72 °C, re-testing and fresh enzyme: common practice, no source.
describe('starchRescue', () => {
  it('says a short rest will do while alpha-amylase lives', () => {
    const e = engine();
    const mash = after(e, [[1, 71, 71]]);
    expect(e.results(mash).iodineNormal).toBe(false);
    const rescue = starchRescue(mash, e, fresh, 80);
    expect(rescue.restMin).toBeGreaterThan(0);
    expect(rescue.restMin).toBeLessThanOrEqual(30);
    expect(rescue.maltKg).toBeUndefined();
  });
  it('asks for fresh enzyme when the mash was overheated, less of it from a stronger malt', () => {
    const e = engine();
    // A quarter of an hour at 62 °C, then overheated: starch opens late, when no enzyme is left.
    const mash = after(e, [
      [15, 62, 62],
      [2, 62, 88],
      [10, 88, 88],
    ]);
    expect(e.results(mash).alphaLeft).toBeLessThan(1e-6);
    const rescue = starchRescue(mash, e, fresh, 80);
    expect(rescue.restMin).toBeUndefined();
    const kg = rescue.maltKg as number;
    expect(kg).toBeGreaterThan(1);
    expect(kg).toBeLessThan(20);
    const strong = { ...fresh, malt: { ...STANDARD_MALT, alpha: 1.8 } };
    expect(starchRescue(mash, e, strong, 80).maltKg).toBeLessThan(kg);
  });
  it('names the limit not to pass, and leaves the mash it was asked about alone', () => {
    const e = engine();
    const mash = after(e, [[1, 71, 71]]);
    const before = mash.slice();
    expect(starchRescue(mash, e, fresh, 80).text).toContain(`${DO_NOT_PASS_C} °C`);
    expect(mash).toEqual(before);
  });
  it('has nothing to do for a converted mash', () => {
    const e = engine();
    const rescue = starchRescue(after(e, [[60, 66, 66]]), e, fresh, 80);
    expect(rescue.restMin).toBe(0);
    // Husks hold starch that a mash never gives up (common practice, no source).
    expect(rescue.text).toMatch(/without husks.*hold 71 °C/);
  });
});
