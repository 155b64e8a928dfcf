import { describe, expect, it } from 'vitest';
import type { MaltCertificate, PlanDocument } from './document.ts';
import { TWO_PULLS } from './live-testing.ts';
import { certificateWorth } from './lot-worth.ts';
import { planDay } from './plan-day.ts';

const withSheet = (certificate: MaltCertificate): PlanDocument => {
  const document = TWO_PULLS;
  const malts = document.beer.malts.map((m) => ({ ...m, certificate }));
  return { ...document, beer: { ...document.beer, malts } };
};
const worthOf = (certificate: MaltCertificate) => {
  const document = withSheet(certificate);
  const { wort } = planDay(document, { draws: 80, changes: false });
  return certificateWorth(document, wort as NonNullable<typeof wort>);
};

describe('certificateWorth', () => {
  it('asks for the extract first when the sheet is empty: it moves the extract most', () => {
    const worth = worthOf({});
    expect(worth.map((w) => w.field)).toContain('alphaDu');
    expect(worth[0]?.field).toBe('extractFinePct');
    for (const w of worth) {
      expect(w.extractNarrowing).toBeGreaterThanOrEqual(0);
      expect(w.extractNarrowing).toBeLessThanOrEqual(1);
      expect(w.limitNarrowing).toBeLessThanOrEqual(1);
    }
  });
  it('has nothing to ask of a full sheet', () => {
    expect(worthOf({ extractFinePct: 82, diastaticWk: 300, alphaDu: 50 })).toEqual([]);
  });
  it('asks only for what is missing', () => {
    const fields = worthOf({ extractFinePct: 82, diastaticWk: 300 }).map((w) => w.field);
    expect(fields).toEqual(['alphaDu']);
  });
});
