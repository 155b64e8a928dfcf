import { unitPair } from '@ladlework/quantity';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { padScale, stepped } from './pad-steps.ts';

describe('steps of the pad', () => {
  it('are 0.1, 0.5 and 1 °C, or the like in °F', () => {
    expect(padScale('temp', unitPair('metric'), 70).steps).toEqual([0.1, 0.5, 1]);
    expect(padScale('temp', unitPair('us'), 70)).toMatchObject({ unit: '°F', steps: [0.2, 1, 2] });
  });

  it('go where they say and by about what they say', () => {
    const values = fc.integer({ min: 0, max: 1050 }).map((n) => n / 10);
    const sizes = fc.constantFrom(0.1, 0.5, 1);
    fc.assert(
      fc.property(values, sizes, fc.constantFrom(1 as const, -1 as const), (value, step, sign) => {
        const next = stepped(value, step, sign, 1);
        expect((next - value) * sign).toBeGreaterThan(step * 0.45);
        expect((next - value) * sign).toBeLessThan(step * 1.55);
      }),
    );
  });

  it('come back to SI unharmed', () => {
    const scale = padScale('temp', unitPair('us'), 70);
    expect(scale.toSi(scale.fromSi(70))).toBeCloseTo(70, 10);
  });
});
