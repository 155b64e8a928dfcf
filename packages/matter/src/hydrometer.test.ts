import fc from 'fast-check';
import { expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import { fermentedSgByRefractometer, hydrometerPlato, refractometerPlato } from './hydrometer.ts';

it('reads true at 20 °C', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 35, noNaN: true }), (p) => {
      expect(Math.abs(hydrometerPlato(p, 20) - p)).toBeLessThan(1e-6);
    }),
  );
});

// Derived: ICUMSA density with glass at 25e-6/K.
it.each([
  [40, 1.52],
  [30, 0.66],
  [15, -0.245],
])('10 °P read at %d °C: %d °P to add', (t, correction) => {
  expect(Math.abs(hydrometerPlato(10, t) - 10 - correction)).toBeLessThan(0.0051);
});

// Fit to the ASBC table (common practice), agreement within 0.04 °P to 30 °C up to 10 °P.
it('agrees with the fit to the ASBC table', () => {
  for (const p of [2, 5, 10]) {
    for (const t of [15, 20, 25, 30]) {
      const d = t - 20;
      const fit =
        0.000383644 +
        0.0496253 * d -
        6.35525e-5 * p +
        0.00110774 * d * d +
        0.00091996 * d * p +
        1.36646e-5 * p * p;
      expect(Math.abs(hydrometerPlato(p, t) - p - fit)).toBeLessThan(0.045);
    }
  }
});

it('a hot sample is refused with the range', () => {
  expect(() => hydrometerPlato(10, 65)).toThrow(OutOfRange);
  expect(() => hydrometerPlato(10, 65)).toThrow(
    'sample temperature is 65 °C; it must be between 0 and 40 °C',
  );
});

it('refractometer: wort and beer', () => {
  expect(refractometerPlato(12.48)).toBeCloseTo(12, 10);
  // Cubic of common practice: 12 before, 6 after.
  expect(fermentedSgByRefractometer(12, 6)).toBeCloseTo(1.01168, 5);
  expect(() => refractometerPlato(12, 10)).toThrow(OutOfRange);
  expect(() => fermentedSgByRefractometer(1, 0)).toThrow(OutOfRange);
});
