import { describe, expect, it } from 'vitest';
import { planCoverage } from './coverage.ts';

describe('the 80 % bands of a plan', () => {
  it('hold what hidden kits do in about four of five days', () => {
    // design.md 6: 80 ± 4 % over 500 and more; bench/plan-coverage.ts runs more of them.
    const held = planCoverage(12, 60, 3);
    expect(held.landings).toBeGreaterThan(720);
    expect(Math.abs(held.landingsHeld / held.landings - 0.8)).toBeLessThan(0.04);
    expect(Math.abs(held.daysHeld / held.days - 0.8)).toBeLessThan(0.04);
  });
});
