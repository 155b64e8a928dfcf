import { describe, expect, it } from 'vitest';
import { enzymeLeft } from './enzyme-left.ts';

const mash = (alphaLeft: number, betaLeft: number) => ({
  reading: {
    alphaLeft,
    betaLeft,
    extractKg: 1,
    wortPlato: 10,
    fermentableShare: 0.7,
    starchRaw: 0,
    starchOpen: 0,
  },
});

describe('enzyme left', () => {
  it('is what lives in the tun and in the pot together', () => {
    expect(enzymeLeft([mash(0.5, 0.25), mash(0.25, 0)])).toEqual({ alpha: 0.75, beta: 0.25 });
  });

  it('is not said before there is a mash', () => {
    expect(enzymeLeft([])).toBeUndefined();
  });
});
