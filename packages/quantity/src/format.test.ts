import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { specificGravity } from './brands.ts';
import { parseExtract } from './extract.ts';
import { format, formatBand, formatDuration, formatExtract } from './format.ts';
import { entryUnit, unitPair } from './pair.ts';
import { parseQuantity } from './parse.ts';
import { findUnit, fromHouse, KINDS, type Kind } from './units.ts';

const us = unitPair('us');
const metric = unitPair('metric');

describe('one number', () => {
  it.each<[Kind, number, string, string]>([
    ['temperature', 66.6667, '66.7 °C', '152.0 °F'],
    ['temperature', -0.01, '0.0 °C', '32.0 °F'],
    ['temperatureDifference', 3, '3.0 K', '5.4 °F'],
    ['volume', 9.14, '9.1 L', '9.7 qt'],
    ['volume', 80, '80.0 L', '21.1 gal'],
    ['volume', 620, '620 L', '5.28 bbl'],
    ['volume', 1999.8, '20.0 hL', '17.04 bbl'],
    ['volume', 3520.43, '35.2 hL', '30.00 bbl'],
    ['mass', 0.045, '45 g', '1.59 oz'],
    ['mass', 0.9997, '1.00 kg', '2.2 lb'],
    ['mass', 8, '8.00 kg', '17.6 lb'],
    ['mass', 120, '120 kg', '265 lb'],
    ['power', 3.5, '3.50 kW', '11900 BTU/h'],
    ['pressure', 80, '80.0 kPa', '11.6 psi'],
    ['length', 0.45, '45.0 cm', '17.7 in'],
    ['length', 1609, '1609 m', '5279 ft'],
    ['energy', 12.34, '12.3 kWh', '12.3 kWh'],
    ['ratio', 3.5, '3.50 L/kg', '1.68 qt/lb'],
    ['duration', 35, '35 min', '35 min'],
    ['duration', 65.2, '1 h 05', '1 h 05'],
    ['duration', 59.7, '1 h 00', '1 h 00'],
    ['duration', 0.5, '30 s', '30 s'],
    ['duration', -90, '-1 h 30', '-1 h 30'],
  ])('%s %d is "%s" and "%s"', (kind, value, inMetric, inUs) => {
    expect(format(kind, value, metric)).toBe(inMetric);
    expect(format(kind, value, us)).toBe(inUs);
  });

  it('decimals, unit and unit choice can be set', () => {
    expect(format('temperature', 66.6667, us, { digits: 0 })).toBe('152 °F');
    expect(format('volume', 9.14, us, { withUnit: false })).toBe('9.7');
    expect(format('volume', 9.14, us, { unit: 'fl oz' })).toBe('309 fl oz');
    expect(format('duration', 65, metric, { unit: 'h' })).toBe('1.1 h');
    const gallons = unitPair('us', { units: { volume: [{ unit: 'gal', below: Infinity }] } });
    expect(format('volume', 352.04, gallons)).toBe('93.0 gal');
  });

  it('a number that is none cannot be shown', () => {
    expect(() => format('volume', Number.NaN, metric)).toThrow(RangeError);
    expect(() => formatBand('volume', { low: 1, likely: Infinity, high: 2 }, metric)).toThrow();
  });

  it('the entry unit is the unit shown', () => {
    expect(entryUnit('volume', us, 9)).toBe('qt');
    expect(entryUnit('volume', us)).toBe('bbl');
    expect(entryUnit('temperature', us, 66)).toBe('°F');
  });
});

describe('bands', () => {
  it.each<[Kind, [number, number, number], string, string]>([
    ['temperature', [69.9, 70.4, 70.9], '70.4 ± 0.5 °C', '158.7 ± 0.9 °F'],
    ['temperature', [68, 70.4, 71.9], '68.0–70.4–71.9 °C', '154.4–158.7–161.4 °F'],
    ['temperature', [70.39, 70.4, 70.42], '70.4 ± 0.1 °C', '158.7 ± 0.1 °F'],
    ['temperature', [70, 70, 70], '70.0 °C', '158.0 °F'],
    ['volume', [8.5, 9.1, 9.8], '9.1 ± 0.7 L', '9.0–9.6–10.4 qt'],
    ['duration', [60, 65, 70], '1 h 05 ± 5 min', '1 h 05 ± 5 min'],
    ['duration', [50, 65, 100], '50 min–1 h 05–1 h 40', '50 min–1 h 05–1 h 40'],
  ])('%s %j', (kind, [low, likely, high], inMetric, inUs) => {
    expect(formatBand(kind, { low, likely, high }, metric)).toBe(inMetric);
    expect(formatBand(kind, { low, likely, high }, us)).toBe(inUs);
  });

  it('a band out of order is a bug', () => {
    expect(() => formatBand('volume', { low: 2, likely: 1, high: 3 }, metric)).toThrow(RangeError);
  });

  it('a band that is there is never rounded away', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 100, noNaN: true }),
        fc.double({ min: 1e-6, max: 5, noNaN: true }),
        (likely, half) => {
          const text = formatBand(
            'temperature',
            { low: likely - half, likely, high: likely + half },
            metric,
          );
          const shown = Number(text.split('± ')[1]?.split(' ')[0]);
          expect(shown).toBeGreaterThanOrEqual(0.1);
          expect(Math.abs(shown - half)).toBeLessThanOrEqual(0.1);
        },
      ),
    );
  });
});

describe('what is shown reads back', () => {
  // A step of the last decimal in the unit printed is the most that may be lost.
  it('as the same quantity to the last figure shown', () => {
    const kinds = fc.constantFrom(...(Object.keys(KINDS) as Kind[]));
    fc.assert(
      fc.property(
        kinds,
        fc.constantFrom(us, metric),
        fc.double({ min: 0.02, max: 5000, noNaN: true }),
        (kind, pair, value) => {
          const text = format(kind, value, pair);
          const read = parseQuantity(kind, text);
          expect(read.ok, text).toBe(true);
          if (!read.ok) return;
          const tolerance = kind === 'duration' ? 0.51 : halfStep(kind, text);
          expect(Math.abs(read.value - value), text).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
        },
      ),
      { numRuns: 1000 },
    );
  });

  function halfStep(kind: Kind, text: string): number {
    const [number = '', ...rest] = text.split(' ');
    const unit = findUnit(kind, rest.join(' '));
    if (unit === undefined) throw new Error(`no unit in "${text}"`);
    const decimals = number.includes('.') ? (number.split('.')[1] ?? '').length : 0;
    const coarse = unit.symbol === 'BTU/h' ? 100 : 10 ** -decimals;
    const perHouse = fromHouse(kind, unit.symbol, 1) - fromHouse(kind, unit.symbol, 0);
    return coarse / 2 / perHouse;
  }
});

describe('extract', () => {
  it('keeps its notation both ways', () => {
    for (const text of ['12.0 °P', '1.048', '12.6 g/100 mL']) {
      const read = parseExtract(text);
      expect(read.ok && formatExtract(read.value)).toBe(text);
    }
    expect(formatExtract({ notation: 'sg', value: specificGravity(1.0484) }, { digits: 4 })).toBe(
      '1.0484',
    );
  });

  it.each([
    ['12p', 'plato', 12],
    ['12,5 °P', 'plato', 12.5],
    ['12 Plato', 'plato', 12],
    ['-0.5', 'plato', -0.5],
    ['SG 1.048', 'sg', 1.048],
    ['1,048', 'sg', 1.048],
    ['1048', 'sg', 1.048],
    ['0.998', 'sg', 0.998],
    ['12.6 g/100mL', 'g/100mL', 12.6],
  ])('"%s" is %s %d', (text, notation, value) => {
    expect(parseExtract(text)).toEqual({ ok: true, value: { notation, value } });
  });

  it.each([
    ['', 'empty'],
    ['abc', 'not-a-number'],
    ['77', 'out-of-range'],
    ['1.3 sg', 'out-of-range'],
    ['12 brix', 'unknown-unit'],
    ['12 13', 'too-many-numbers'],
    ['1e999', 'not-finite'],
    ['sg 12 °P', 'unknown-unit'],
  ])('"%s" is refused: %s', (text, code) => {
    const read = parseExtract(text, { field: 'first wort' });
    expect(read).toMatchObject({ ok: false, error: { code, field: 'first wort' } });
  });
});

it('spans of time', () => {
  expect(formatDuration(0)).toBe('0 min');
  expect(formatDuration(125, false)).toBe('125');
});
