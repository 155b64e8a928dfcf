import { describe, expect, it } from 'vitest';
import type { Beer, MaltCertificate, Mash } from './document.ts';
import { fanEstimate, glucanClass, restAdvice } from './rest-advice.ts';

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

// Limits: reference mash.md 13 (Ajib 2013 thesis; common practice, no source).
describe('restAdvice', () => {
  it('wants a protein rest only when two figures are poor', () => {
    expect(restAdvice(beer({ kolbachPct: 34, friabilityPct: 70 })).rest).toBe('protein-and-glucan');
    expect(
      restAdvice(beer({ kolbachPct: 34, friabilityPct: 85, vz45Pct: 39, betaGlucanMgL: 180 })).rest,
    ).toBe('none');
  });
  it('warns off a long rest when the Kolbach index is rich', () => {
    expect(restAdvice(beer({ kolbachPct: 43, friabilityPct: 88 })).rest).toBe('short-at-most');
  });
  it('says so when too little is known, and what is missing', () => {
    const advice = restAdvice(beer({ kolbachPct: 38 }));
    expect(advice.rest).toBe('unknown');
    expect(advice.missing).toEqual(['friabilityPct', 'vz45Pct', 'betaGlucanMgL']);
  });
  it('leaves caramel malt out of the means', () => {
    const mixed: Beer = {
      ...beer({ kolbachPct: 34, friabilityPct: 70 }),
      malts: [
        ...beer({ kolbachPct: 34, friabilityPct: 70 }).malts,
        {
          name: 'dark',
          kg: 80,
          type: 'caramel',
          certificate: { kolbachPct: 80, friabilityPct: 99 },
        },
      ],
    };
    expect(restAdvice(mixed).rest).toBe('protein-and-glucan');
  });
});

describe('fanEstimate', () => {
  it('runs from 0.84 of congress FAN mashed in hot to all of it after half an hour at 50 °C', () => {
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
    expect(
      fanEstimate(
        malt,
        mash([
          [50, 15],
          [63, 40],
        ]),
      )?.likely,
    ).toBeCloseTo(138, 6);
    expect(fanEstimate(beer({}), mash([[63, 60]]))).toBeUndefined();
  });
});

describe('glucanClass', () => {
  it('sorts by the stricter of viscosity and beta-glucan', () => {
    expect(glucanClass(beer({ betaGlucanMgL: 320 })).level).toBe('slow');
    expect(glucanClass(beer({ betaGlucanMgL: 180, viscosityMPas: 1.7 })).level).toBe('slow');
    expect(glucanClass(beer({ betaGlucanMgL: 270 })).level).toBe('watch');
    expect(glucanClass(beer({ betaGlucanMgL: 150, viscosityMPas: 1.5 })).level).toBe('easy');
    expect(glucanClass(beer({})).level).toBe('unknown');
  });
});
