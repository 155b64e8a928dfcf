import { describe, expect, it } from 'vitest';
import { presetFor } from './boxes.ts';

const NOTHING = { tempC: undefined, volumeL: undefined };

describe('preset of the pad', () => {
  it('is the forecast, else the last reading, else something of the kind', () => {
    const box = { vessel: 'tun', what: 'temp' } as const;
    expect(presetFor(box, { tempC: 61.8, volumeL: 300 }, 63, 400)).toBe(61.8);
    expect(presetFor(box, NOTHING, 63, 400)).toBe(63);
    expect(presetFor({ ...box, what: 'volume' }, NOTHING, undefined, 400)).toBe(200);
  });

  it('never takes a temperature for a pH or a gravity', () => {
    const known = { tempC: 61.8, volumeL: 300 };
    expect(presetFor({ vessel: 'tun', what: 'ph' }, known, undefined, 400)).toBeLessThan(7);
    expect(presetFor({ vessel: 'tun', what: 'gravity' }, known, 17.5, 400)).toBe(17.5);
  });
});
