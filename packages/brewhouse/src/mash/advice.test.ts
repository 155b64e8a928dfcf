import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  betaGlucanLight,
  ENZYME_WINDOWS,
  type EnzymeWindow,
  fanEstimate,
  type MaltCertificate,
  minutesInWindow,
  restAdvice,
} from './index.ts';

describe('rest advice', () => {
  // docs/science/mash.md, Protein, FAN, beta-glucan, malt sheet: rule from memory.
  it.each([
    ['two poor figures', { kolbachPct: 34, friabilityPct: 70 }, 'rest'],
    ['glucan and Hartong poor', { vz45Pct: 33, betaGlucanMgL: 400, kolbachPct: 39 }, 'rest'],
    [
      'one poor figure, sheet complete',
      { kolbachPct: 38, friabilityPct: 72, vz45Pct: 38, betaGlucanMgL: 180 },
      'optional',
    ],
    ['rich malt', { kolbachPct: 43, friabilityPct: 90 }, 'none'],
    ['nothing known', {}, 'unknown'],
    ['one poor figure, rest missing', { kolbachPct: 34 }, 'unknown'],
  ] as [string, MaltCertificate, string][])('%s', (_, sheet, verdict) => {
    expect(restAdvice(sheet).verdict).toBe(verdict);
  });

  it('names what is missing', () => {
    expect(restAdvice({ kolbachPct: 34 }).missing).toEqual([
      'friabilityPct',
      'vz45Pct',
      'betaGlucanMgL',
    ]);
  });
});

describe('FAN', () => {
  it('of a mash-in at 63 °C is 84 % of the laboratory wort, after 30 min at 50 °C all of it', () => {
    expect(fanEstimate(150, 63, 0).likely).toBeCloseTo(126, 9);
    expect(fanEstimate(150, 50, 30).likely).toBeCloseTo(150, 9);
    expect(fanEstimate(150, 50, 15).likely).toBeCloseTo(138, 9);
    expect(fanEstimate(150, 50, 30).low).toBeCloseTo(127.5, 9);
  });
  it('refuses the impossible', () => {
    expect(() => fanEstimate(-1, 50, 0)).toThrow(/fanMgL is -1/);
    expect(() => fanEstimate(100, 50, -2)).toThrow(/proteinRestMin is -2/);
  });
});

describe('beta-glucan light', () => {
  it.each([
    [{ betaGlucanMgL: 180 }, 'green'],
    [{ betaGlucanMgL: 280 }, 'amber'],
    [{ betaGlucanMgL: 350 }, 'red'],
    [{ viscosityMPas: 1.7 }, 'red'],
    [{ viscosityMPas: 1.5 }, 'green'],
    [{}, 'unknown'],
  ])('%o: %s', (sheet, light) => {
    expect(betaGlucanLight(sheet)).toBe(light);
  });
});

describe('enzyme windows', () => {
  // reference/data/mash-rests.csv, column optimum_C.
  const rows = readFileSync(
    new URL('../../../../reference/data/mash-rests.csv', import.meta.url),
    'utf8',
  )
    .trim()
    .split('\n')
    .slice(1)
    .map((line) =>
      (line.startsWith('"')
        ? line
            .slice(1)
            .replace('",', ',')
            .replace(/^[^,]*,[^,]*,/, 'release,')
        : line
      ).split(','),
    );
  const optimum = (start: string) => rows.find(([name]) => name?.startsWith(start))?.[1];
  it.each([
    ['phytase', ENZYME_WINDOWS.phytase],
    ['beta-glucanase', ENZYME_WINDOWS.betaGlucanase],
    ['endopeptidases', ENZYME_WINDOWS.endopeptidase],
    ['carboxypeptidase', ENZYME_WINDOWS.carboxypeptidase],
    ['limit dextrinase', ENZYME_WINDOWS.limitDextrinase],
    ['alpha-glucosidase', ENZYME_WINDOWS.alphaGlucosidase],
    ['beta-amylase', ENZYME_WINDOWS.betaAmylase],
    ['alpha-amylase', ENZYME_WINDOWS.alphaAmylase],
  ] as [string, EnzymeWindow][])('%s', (start, window) => {
    expect(optimum(start)?.replace(' (free form)', '')).toBe(window.optimumC.join('-'));
  });

  it('are lost above their optimum', () => {
    for (const window of Object.values<EnzymeWindow>(ENZYME_WINDOWS))
      if (window.lostAboveC !== undefined)
        expect(window.lostAboveC).toBeGreaterThan(window.optimumC[1]);
  });
});

describe('minutes in a window', () => {
  it('counts rests whole and ramps by their part', () => {
    expect(minutesInWindow([0, 10, 20], [55, 65, 65], [60, 65])).toBe(15);
    expect(minutesInWindow([0, 10], [70, 50], [60, 65])).toBe(2.5);
  });
  it('of windows side by side add up to the whole', () => {
    const temps = fc.array(fc.double({ min: 20, max: 100, noNaN: true }), {
      minLength: 2,
      maxLength: 8,
    });
    fc.assert(
      fc.property(temps, fc.double({ min: 30, max: 90, noNaN: true }), (line, cut) => {
        const times = line.map((_, i) => 7 * i);
        fc.pre(!line.includes(cut));
        const sum =
          minutesInWindow(times, line, [0, cut]) + minutesInWindow(times, line, [cut, 110]);
        expect(sum).toBeCloseTo(7 * (line.length - 1), 9);
      }),
    );
  });
  it('refuses lists that do not match', () => {
    expect(() => minutesInWindow([0, 1], [50], [0, 1])).toThrow(/length/);
    expect(() => minutesInWindow([1, 0], [50, 50], [0, 1])).toThrow(/timesMin/);
  });
});
