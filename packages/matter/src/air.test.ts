import { expect, it } from 'vitest';
import { burnerCarbonMonoxide, fermentationCo2 } from './air.ts';
import { OutOfRange } from './errors.ts';

// Derived: a 10 kW propane burner in 50 m³, 800 ppm air-free.
it('148 ppm of carbon monoxide at one air change an hour, 15 at ten', () => {
  const room = { propaneKgPerH: 0.776, volumeM3: 50 };
  expect(burnerCarbonMonoxide({ ...room, airChangesPerH: 1 })).toBeCloseTo(148, -0.3);
  expect(burnerCarbonMonoxide({ ...room, airChangesPerH: 10 })).toBeCloseTo(15, -0.3);
});

// Derived: 20 L of wort ferment 8 % real extract in a sealed 20 m³ room.
it('2.1 % of carbon dioxide', () => {
  expect(fermentationCo2({ extractKg: 20 * 1.0465 * 0.08, volumeM3: 20 })).toBeCloseTo(2.1, 1.3);
});

it('refuses rooms without walls', () => {
  expect(() => fermentationCo2({ extractKg: 1, volumeM3: 0 })).toThrow(OutOfRange);
  expect(() => burnerCarbonMonoxide({ propaneKgPerH: 1, volumeM3: 50, airChangesPerH: 0 })).toThrow(
    OutOfRange,
  );
});
