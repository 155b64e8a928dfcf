import { describe, expect, it } from 'vitest';
import { parseProbeReadings, probeContradictions } from './probe-schema.ts';
import { exampleProbe } from './testing.ts';

const TEMP = { what: 'temp', unit: '°F' } as const;

describe('what a probe sends', () => {
  it.each([
    ['a bare number in its own unit', 143.6, [{ value: 62 }]],
    ['the text of one', '143.6', [{ value: 62 }]],
    ['a number with a unit beside it', { value: 62, unit: '°C' }, [{ value: 62 }]],
    ['text with a unit', { value: '62 °C' }, [{ value: 62 }]],
    ['its own time', { value: 143.6, atMs: 1000 }, [{ value: 62, atMs: 1000 }]],
    ['several', [143.6, { value: 145.4 }], [{ value: 62 }, { value: 63 }]],
    ['several, wrapped', { readings: [{ value: 143.6 }] }, [{ value: 62 }]],
    ['a broken sensor’s number, told as it is', { value: -127, unit: 'C' }, [{ value: -127 }]],
  ])('%s', (_, json, readings) => {
    const parsed = parseProbeReadings(TEMP, json);
    if (!parsed.ok) throw new Error(parsed.errors[0]?.message);
    expect(parsed.readings).toHaveLength(readings.length);
    for (const [n, want] of readings.entries()) {
      expect(parsed.readings[n]?.value).toBeCloseTo(want.value, 9);
      expect(parsed.readings[n]?.atMs).toBe('atMs' in want ? want.atMs : undefined);
    }
  });

  it.each([
    ['nothing', {}, 'value'],
    ['no number', 'NaN', 'value'],
    ['a word', { value: 'hot' }, 'value'],
    ['null', null, 'value'],
    ['a list of none', [], 'readings'],
    ['another unit than temperature', { value: 3, unit: 'bbl' }, 'unit'],
    ['more than any sensor', { value: 5000 }, 'value'],
    ['a field nobody knows', { value: 60, colour: 'red' }, 'colour'],
    ['a time before 1970', { value: 60, atMs: -5 }, 'atMs'],
    ['one bad among good, by its place', [60, { value: 'x' }], 'readings[1].value'],
  ])('refused: %s', (_, json, field) => {
    const parsed = parseProbeReadings(TEMP, json);
    expect(parsed.ok ? undefined : parsed.errors[0]?.field).toBe(field);
    expect(parsed.ok ? '' : parsed.errors[0]?.message).toContain(field);
  });
});

describe('a probe that cannot be', () => {
  const wrong = (change: object) => probeContradictions(exampleProbe(change))[0]?.message;

  it('the example is right', () => {
    expect(wrong({})).toBeUndefined();
  });

  it.each([
    ['a unit of something else', { unit: 'bbl' }, /"bbl" is no unit/],
    [
      'points too near each other',
      {
        points: [
          { shows: 60, is: 60, by: 'known' },
          { shows: 65, is: 65, by: 'known' },
        ],
      },
      /5.0 apart; allowed: 20.0/,
    ],
    [
      'ice and boiling mixed up',
      {
        points: [
          { shows: 99, is: 0, by: 'ice' },
          { shows: 0, is: 100, by: 'boiling' },
        ],
      },
      /-1.01 of one/,
    ],
    ['an offset of a broken probe', { points: [], offset: 20 }, /moves 0 °C by 20.0 K/],
  ])('%s', (_, change, message) => {
    expect(wrong(change)).toMatch(message);
  });
});
