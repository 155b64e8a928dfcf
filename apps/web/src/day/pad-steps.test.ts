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

  it('read extract as SG or °P, whichever the number can be', () => {
    const sg = padScale('gravity', unitPair('us', { extract: 'sg' }), 12);
    expect(sg).toMatchObject({ unit: 'SG', digits: 3 });
    // 12 °P is SG 1.0484 (ASBC table of extract, from memory).
    expect(sg.fromSi(12).toFixed(4)).toBe('1.0484');
    expect(sg.toSi(1.0484)).toBeCloseTo(12, 1);
    expect([sg.toSi(12), sg.unitOf(12)]).toEqual([12, '°P']);
    const plato = padScale('gravity', unitPair('us'), 12);
    expect(plato).toMatchObject({ unit: '°P', digits: 1 });
    expect(plato.toSi(1.0484)).toBeCloseTo(12, 1);
    expect(plato.unitOf(1.0484)).toBe('SG');
  });

  it('leave what no extract can be to the check of the reading', () => {
    const sg = padScale('gravity', unitPair('us', { extract: 'sg' }), 12);
    expect(sg.toSi(700)).toBe(700);
  });

  it('come back to SI unharmed', () => {
    const scale = padScale('temp', unitPair('us'), 70);
    expect(scale.toSi(scale.fromSi(70))).toBeCloseTo(70, 10);
  });
});
