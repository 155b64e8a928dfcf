import { describe, expect, it } from 'vitest';
import type { Beer, MaltCertificate, Mash } from './document.ts';
import { fanEstimate, glucanClass, gristCertificate, restAdvice } from './rest-advice.ts';

const beer = (certificate: MaltCertificate): Beer => ({
  id: 'b',
  name: 'trial',
  malts: [{ name: 'pale', kg: 80, type: 'base', certificate }],
});
const mash = (rests: [number, number][]): Mash => ({
  layout: 'carry',
  tun: 'tun',
  liquorVessel: 'kettle',
  liquorLPerKg: 3.5,
  rests: rests.map(([tempC, minutes]) => ({ tempC, minutes })),
  raises: [],
});

describe('gristCertificate', () => {
  it('weighs the mashed malts that state a figure and leaves caramel out', () => {
    const mixed: Beer = {
      id: 'b',
      name: 'trial',
      malts: [
        { name: 'pale', kg: 60, type: 'base', certificate: { kolbachPct: 40, fanMgL: 160 } },
        { name: 'wheat', kg: 20, type: 'wheat', certificate: { kolbachPct: 36 } },
        { name: 'dark', kg: 20, type: 'caramel', certificate: { kolbachPct: 80 } },
      ],
    };
    expect(gristCertificate(mixed)).toEqual({ kolbachPct: 39, fanMgL: 160 });
  });
});

// The limits themselves are tested in the brewhouse room; here, that the beer reaches them.
describe('advice for a beer', () => {
  it('wants a protein rest only when two figures are poor', () => {
    expect(restAdvice(beer({ kolbachPct: 34, friabilityPct: 70 })).verdict).toBe('rest');
    expect(restAdvice(beer({ kolbachPct: 43, friabilityPct: 88 })).verdict).toBe('none');
    expect(restAdvice(beer({})).missing).toContain('kolbachPct');
  });
  it('estimates FAN from the rests', () => {
    const malt = beer({ fanMgL: 150 });
    expect(fanEstimate(malt, mash([[63, 60]]))?.likely).toBeCloseTo(126, 6);
    expect(
      fanEstimate(
        malt,
        mash([
          [50, 30],
          [63, 40],
        ]),
      )?.likely,
    ).toBeCloseTo(150, 6);
    expect(fanEstimate(beer({}), mash([[63, 60]]))).toBeUndefined();
  });
  it('shows the light for run-off', () => {
    expect(glucanClass(beer({ betaGlucanMgL: 320 }))).toBe('red');
    expect(glucanClass(beer({}))).toBe('unknown');
  });
});
