import { expect, it } from 'vitest';
import { parseMeasure } from './measure.ts';

it.each([
  ['share', '65 %', 0.65],
  ['share', 0.65, 0.65],
  ['percent', '4.5 %', 4.5],
  ['percent', '4,5', 4.5],
  ['heatCapacity', '12 kJ/K', 12],
  ['heatCapacity', '1 BTU/°F', 1.899100534716], // BTU 1.05505585262 kJ, NIST SP 811; 1.8 °F a kelvin
  ['heatLoss', '0.02 kW/K', 20],
  ['area', '1 ft2', 0.09290304], // NIST SP 811
  ['area', '350 cm²', 0.035],
  ['heatingRate', '2 °F/min', 1.1111111111],
  ['heatingRate', '1.5K/min', 1.5],
  ['flow', '2 gal/min', 7.570823568], // NIST SP 811: gallon 3.785411784 L
  ['flow', '9 hL/h', 15],
  ['massFlow', '10 lb/min', 4.5359237], // NIST SP 811
  ['pricePerMass', '€1.20 /kg', 1.2],
  ['pricePerMass', '$0.50/lb', 1.1023113109], // NIST SP 811
  ['pricePerEnergy', '0.10 /MJ', 0.36],
] as const)('%s %j is %d', (kind, input, value) => {
  const read = parseMeasure(kind, input, 0, 1000);
  expect(read.ok && read.value).toBeCloseTo(value, 9);
});

it.each([
  ['share', '65 %%', 'unknown-unit'],
  ['share', '101 %', 'out-of-range'],
  ['share', 'half', 'not-a-number'],
  ['share', Number.NaN, 'not-a-number'],
  ['share', null, 'not-a-number'],
  ['area', '1 kg', 'unknown-unit'],
  ['area', '-1 m2', 'out-of-range'],
  ['area', '1e999 m2', 'not-a-number'],
  ['area', '$1 m2', 'not-a-number'],
  ['pricePerHour', '1 /kg', 'unknown-unit'],
] as const)('%s %j is refused: %s', (kind, input, code) => {
  const read = parseMeasure(kind, input, 0, 1);
  expect(read.ok ? '' : read.error.code).toBe(code);
});
