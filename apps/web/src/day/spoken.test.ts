import { unitPair } from '@ladlework/quantity';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spokenReading, typedFromSpoken } from './spoken.ts';

describe('what was said', () => {
  it.each([
    ['sixty-three point five', '63.5'],
    ['63.5', '63.5'],
    ['63,5 degrees celsius', '63.5 °C'],
    ['sixty two and a half', '62.5'],
    ['one fifty two fahrenheit', '152 °F'],
    ['one hundred and fifty two f', '152 f'],
    ['one hundred sixty', '160'],
    ['one hundred and eight litres', '108 L'],
    ['ninety eight', '98'],
    ['one oh four eight', '1048'],
    ['one point oh four eight', '1.048'],
    ['ten forty eight', '1048'],
    ['twelve point three plato', '12.3 °P'],
    ['five point three five', '5.35'],
    ['pH five point four', '5.4'],
    ['seventy', '70'],
    ['three barrels', '3 bbl'],
    ['point five', '0.5'],
  ])('%s is typed as %s', (said, typed) => {
    expect(typedFromSpoken(said)).toBe(typed);
  });

  it.each(['', 'turn the pump off', 'sixty two pots', 'point', 'sixty point', 'litres', '1.2.3'])(
    '"%s" is no number',
    (said) => {
      expect(typedFromSpoken(said)).toBeUndefined();
    },
  );

  it('is read right for every number of the kettle, in words', () => {
    const ones =
      'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
        ' ',
      );
    const tens = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');
    const words = (n: number): string => {
      if (n < 20) return ones[n] ?? '';
      if (n < 100)
        return `${tens[Math.floor(n / 10) - 2]}${n % 10 === 0 ? '' : ` ${ones[n % 10]}`}`;
      const rest = n % 100;
      return `${ones[Math.floor(n / 100)]} hundred${rest === 0 ? '' : ` and ${words(rest)}`}`;
    };
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999 }), fc.integer({ min: 0, max: 9 }), (n, tenth) => {
        expect(typedFromSpoken(words(n))).toBe(String(n));
        expect(typedFromSpoken(`${words(n)} point ${ones[tenth]}`)).toBe(`${n}.${tenth}`);
      }),
    );
  });
});

describe('a reading that was said', () => {
  const metric = unitPair('metric');
  const us = unitPair('us');
  it('is in the unit of the pad when none is said, else in that', () => {
    expect(spokenReading('temp', 'sixty three', metric, 62)).toEqual({ ok: true, value: 63 });
    const inF = spokenReading('temp', 'one fifty two', us, 66);
    // 152 °F; by the definition of the scale, (152 - 32) / 1.8.
    expect(inF.ok && inF.value).toBeCloseTo(66.6667, 3);
    const said = spokenReading('temp', 'one fifty two fahrenheit', metric, 66);
    expect(said).toEqual(inF);
  });

  it('takes a gravity in either notation', () => {
    expect(spokenReading('gravity', 'twelve point five', metric, 12)).toEqual({
      ok: true,
      value: 12.5,
    });
    const sg = spokenReading('gravity', 'one oh five zero', us, 12);
    // ASBC table of extract: SG 1.050 is 12.39 °P; from memory.
    expect(sg.ok && sg.value).toBeCloseTo(12.39, 1);
  });

  it('is refused with what was heard', () => {
    const refused = spokenReading('temp', 'close the valve', metric, 62);
    expect(refused.ok).toBe(false);
    expect(!refused.ok && refused.error).toContain('close the valve');
  });
});
