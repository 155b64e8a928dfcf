import { unitPair } from '@ladlework/quantity';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkReading, readingSd } from './reading.ts';
import { tempReading } from './testing.ts';

const pair = unitPair('metric');
const volume = (value: number) => tempReading(value, { what: 'volume' });

it('L15 a tun at 120 °C is refused with field, value and range', () => {
  const check = checkReading(tempReading(120), { vesselName: 'Mash tun', pair });
  expect(check).toMatchObject({
    ok: false,
    verdict: 'impossible',
    field: 'Mash tun temperature',
    value: '120.0 °C',
    allowed: '0.0 °C to 105.0 °C',
  });
});

it('L15 the message speaks the units of the brewer', () => {
  const check = checkReading(tempReading(120), { pair: unitPair('us') });
  expect(check.ok ? '' : check.message).toBe(
    'tun temperature: 248.0 °F is above the boiling point here. Read again; possible: 32.0 °F to 221.0 °F.',
  );
});

it.each([
  ['above the boiling point of a high brewery', tempReading(98.5), { boilingPointC: 94.6 }],
  ['below freezing', tempReading(-4), {}],
  ['not a number', tempReading(Number.NaN), {}],
  ['more than the vessel holds', volume(140), { brimL: 120 }],
  ['less than nothing', volume(-1), { brimL: 120 }],
  ['stronger than syrup', tempReading(60, { what: 'gravity' }), {}],
  ['pH of battery acid', tempReading(1, { what: 'ph' }), {}],
  ['above the rim', tempReading(1.2, { what: 'level' }), { depthM: 0.9 }],
] as const)('L15 refused: %s', (_, reading, context) => {
  const check = checkReading(reading, { ...context, pair });
  expect(check.ok).toBe(false);
  expect(check.ok ? '' : check.verdict).toBe('impossible');
});

it('L15 far from expected is a question, not a refusal', () => {
  const check = checkReading(tempReading(45), { expected: 62, pair });
  expect(check.ok ? '' : check.verdict).toBe('doubtful');
  expect(checkReading(tempReading(60), { expected: 62, pair })).toEqual({ ok: true });
});

it('L15 whatever is expected, a value inside the limits is never impossible', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 105, noNaN: true }),
      fc.double({ min: 0, max: 105, noNaN: true }),
      (value, expected) => {
        const check = checkReading(tempReading(value), { expected, pair });
        expect(check.ok || check.verdict).not.toBe('impossible');
      },
    ),
  );
});

it('three places stirred are worth more than one, unsettled less, and its own spread counts', () => {
  expect(readingSd(tempReading(62))).toBe(1.0);
  expect(readingSd(tempReading(62, { places: 3 }))).toBe(0.3);
  expect(readingSd(tempReading(62, { places: 3, settled: false }))).toBe(0.6);
  expect(readingSd(tempReading(62, { places: 3, sdK: 0.9 }))).toBe(0.9);
  expect(readingSd(tempReading(62, { places: 3, sdK: 0.01 }))).toBe(0.3);
  expect(readingSd(volume(100))).toBe(5);
});
