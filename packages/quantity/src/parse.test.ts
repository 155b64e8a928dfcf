import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseQuantity } from './parse.ts';
import type { QuantityErrorCode } from './result.ts';
import { KINDS, type Kind } from './units.ts';

describe('entries that are taken', () => {
  it.each<[Kind, string, number]>([
    ['temperature', '152f', 66.666667],
    ['temperature', '152 F', 66.666667],
    ['temperature', '152 °F', 66.666667],
    ['temperature', '152\u2109', 66.666667],
    ['temperature', '62 °C', 62],
    ['temperature', '62c', 62],
    ['temperature', '62 deg C', 62],
    ['temperature', '62', 62],
    ['temperature', '335.15 K', 62],
    ['temperature', '\u22125 °C', -5],
    ['temperature', '- 5', -5],
    ['temperature', '+5', 5],
    ['temperature', '-459.67 °F', -273.15],
    ['temperatureDifference', '9 °F', 5],
    ['temperatureDifference', '-3 K', -3],
    ['volume', '3 bbl', 352.043296],
    ['volume', '80 L', 80],
    ['volume', '80l', 80],
    ['volume', '80\u00A0L', 80],
    ['volume', '1,5 hL', 150],
    ['volume', '2 m3', 2000],
    ['volume', '2 m³', 2000],
    ['volume', '10 UK gal', 45.4609],
    ['volume', '12 fl. oz.', 0.354882],
    ['volume', '1.234,5 L', 1234.5],
    ['volume', '1,234.5 L', 1234.5],
    ['volume', '1,234,567 mL', 1234.567],
    ['volume', '1e2 L', 100],
    ['mass', '4,5 kg', 4.5],
    ['mass', '0,125 kg', 0.125],
    ['mass', '.5', 0.5],
    ['mass', '5.', 5],
    ['mass', '5 lb 4 oz', 2.38136],
    ['mass', '17lb', 7.71107],
    ['duration', '90', 90],
    ['duration', '1:05', 65],
    ['duration', '0:00:30', 0.5],
    ['duration', '1h05', 65],
    ['duration', '1 h 05', 65],
    ['duration', '1 h 30 min', 90],
    ['duration', '2 h', 120],
    ['duration', '45 s', 0.75],
    ['power', '3.5 kW', 3.5],
    ['power', '12000 BTU/h', 3.516853],
    ['power', '12000 btu/hr', 3.516853],
    ['pressure', '0.8 bar', 80],
    ['pressure', '12 psi', 82.737088],
    ['pressure', '1013 hPa', 101.3],
    ['length', '18 in', 0.4572],
    ['length', '5 ft 2 in', 1.5748],
    ['length', '45 cm', 0.45],
    ['energy', '40 MJ', 11.111111],
    ['ratio', '1.5 qt/lb', 3.129527],
    ['ratio', '3.5', 3.5],
  ])('%s "%s" is %d', (kind, text, expected) => {
    const read = parseQuantity(kind, text);
    expect(read).toMatchObject({ ok: true });
    if (read.ok) expect(read.value).toBeCloseTo(expected, 5);
  });

  it('a bare number takes the unit of the field', () => {
    expect(parseQuantity('temperature', '212', { defaultUnit: '°F' })).toEqual({
      ok: true,
      value: 100,
    });
    expect(parseQuantity('volume', '1', { defaultUnit: 'bbl' })).toMatchObject({ ok: true });
  });

  it('a number that is not text is in the house unit, whatever the field shows', () => {
    expect(parseQuantity('temperature', 66, { defaultUnit: '°F' })).toEqual({
      ok: true,
      value: 66,
    });
  });

  it('a limit met exactly is inside, in either unit', () => {
    const limits = { min: 0, max: 100 };
    for (const text of ['32 °F', '212 °F', '0 °C', '100 °C', '273.15 K', '373.15 K']) {
      expect(parseQuantity('temperature', text, limits), text).toMatchObject({ ok: true });
    }
  });
});

describe('entries that are refused', () => {
  it.each<[Kind, unknown, QuantityErrorCode]>([
    ['temperature', 'abc', 'not-a-number'],
    ['temperature', 'NaN', 'not-a-number'],
    ['temperature', 'Infinity', 'not-a-number'],
    ['temperature', '', 'empty'],
    ['temperature', '   ', 'empty'],
    ['temperature', null, 'empty'],
    ['temperature', undefined, 'empty'],
    ['temperature', {}, 'not-a-number'],
    ['temperature', true, 'not-a-number'],
    ['temperature', Number.NaN, 'not-finite'],
    ['temperature', Infinity, 'not-finite'],
    ['temperature', '1e999', 'not-finite'],
    ['temperature', '-300 °C', 'out-of-range'],
    ['temperature', '-460 °F', 'out-of-range'],
    ['temperature', '-1 K', 'out-of-range'],
    ['temperature', '62 63', 'too-many-numbers'],
    ['temperature', '62-63 °C', 'too-many-numbers'],
    ['temperature', '62–63 °C', 'too-many-numbers'],
    ['temperature', '62 °C 63 °C', 'too-many-numbers'],
    ['temperature', '62 L', 'unknown-unit'],
    ['temperature', '--5', 'not-a-number'],
    ['temperature', '.', 'not-a-number'],
    ['temperature', ',', 'not-a-number'],
    ['temperature', '1.2.3', 'not-a-number'],
    ['length', '12 parsecs', 'unknown-unit'],
    ['mass', '-1 kg', 'out-of-range'],
    ['mass', '1,500 kg', 'ambiguous'],
    ['mass', '4 oz 5 lb', 'too-many-numbers'],
    ['mass', '5.5 lb 4 oz', 'too-many-numbers'],
    ['mass', '5 lb 4 lb', 'too-many-numbers'],
    ['mass', '1/2 lb', 'too-many-numbers'],
    ['mass', '5 kg 200 g', 'too-many-numbers'],
    ['volume', '0x10', 'unknown-unit'],
    ['volume', '5 kg', 'unknown-unit'],
    ['duration', '1:75', 'not-a-number'],
    ['duration', '1:2:3:4', 'not-a-number'],
    ['duration', ':30', 'not-a-number'],
    ['duration', '-10 min', 'out-of-range'],
    ['power', '3 hp', 'unknown-unit'],
    ['volume', '9'.repeat(65), 'too-long'],
  ])('%s %j: %s', (kind, input, code) => {
    const read = parseQuantity(kind, input);
    expect(read).toMatchObject({ ok: false, error: { code } });
  });

  it('names field, value, allowed range in the unit typed, and what to do', () => {
    const read = parseQuantity('temperature', '400 °F', { field: 'rest', min: 0, max: 100 });
    expect(read).toEqual({
      ok: false,
      error: {
        code: 'out-of-range',
        field: 'rest',
        value: '400 °F',
        allowed: '32 °F to 212 °F',
        message:
          'rest: "400 °F" is outside the allowed range; allowed: 32 °F to 212 °F. Check the number and its unit.',
      },
    });
  });

  it('lists the units it knows when the unit is strange', () => {
    const read = parseQuantity('length', '12 parsecs', { field: 'altitude' });
    expect(read.ok ? '' : read.error.message).toContain('Units known: m, cm, mm, in, ft.');
  });

  it('refuses a default unit of another kind as the bug it is', () => {
    expect(() => parseQuantity('mass', '5', { defaultUnit: '°C' })).toThrow(RangeError);
  });
});

describe('whatever is typed', () => {
  const kinds = fc.constantFrom(...(Object.keys(KINDS) as Kind[]));

  it('comes back as a finite value within limits or a refusal with every part filled', () => {
    const entry = fc.oneof(
      fc.string({ unit: 'grapheme' }),
      fc.string({ unit: fc.constantFrom(...'0123456789.,:-+eE °CFkglhmin/"') }),
    );
    fc.assert(
      fc.property(kinds, entry, (kind, text) => {
        const read = parseQuantity(kind, text, { field: 'field', max: 1e6 });
        if (read.ok) {
          expect(Number.isFinite(read.value)).toBe(true);
          expect(read.value).toBeLessThanOrEqual(1e6 * (1 + 1e-9));
          expect(read.value).toBeGreaterThanOrEqual(KINDS[kind].min - 1e-9);
        } else {
          expect(read.error.message.startsWith('field: ')).toBe(true);
          expect(read.error.allowed.length).toBeGreaterThan(0);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('reads back any number with any unit', () => {
    const anyUnit = kinds.chain((kind) =>
      fc.tuple(fc.constant(kind), fc.constantFrom(...KINDS[kind].units)),
    );
    fc.assert(
      fc.property(
        anyUnit,
        fc.integer({ min: 0, max: 10_000_000 }),
        fc.boolean(),
        ([kind, u], n, comma) => {
          const text = (n / 100).toFixed(2);
          const read = parseQuantity(kind, `${comma ? text.replace('.', ',') : text} ${u.symbol}`);
          const expected = ((n / 100 + u.shift) * u.num) / u.den;
          expect(read.ok).toBe(true);
          if (read.ok) expect(read.value).toBeCloseTo(expected, 6);
        },
      ),
    );
  });
});
