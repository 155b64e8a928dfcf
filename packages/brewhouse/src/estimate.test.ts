import { bareWallU, INSULATED_WALL_U } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimateVessel, type WallBuild } from './estimate.ts';

describe('a vessel estimated from its size and wall', () => {
  it('weighs its sheet: wall, bottom and lid of a 50 L pot', () => {
    // Geometry: 0.398 m high, area 0.5 + 0.251 m²; 1 mm of steel at 7900 kg/m³ is 5.94 kg.
    const areaM2 = Math.PI * 0.4 * (0.05 / (0.04 * Math.PI)) + 0.08 * Math.PI;
    const pot = estimateVessel(50, 0.4, { sheetMm: 1, insulation: 'bare' });
    expect(pot.wallKJK).toBeCloseTo(areaM2 * 0.001 * 7900 * 0.46, 1);
    expect(pot.lossWK).toBeCloseTo(bareWallU(65) * areaM2, 1);
  });

  it('loses what the open-tank table says of an insulated wall', () => {
    // A tun as wide as it is deep: area 1.5 pi d².
    const d = ((4 * 0.3) / Math.PI) ** (1 / 3);
    const tun = estimateVessel(300, d, { sheetMm: 2, insulation: '2 in' });
    expect(tun.lossWK).toBeCloseTo(INSULATED_WALL_U['2 in'] * 1.5 * Math.PI * d ** 2, 1);
  });

  it('never loses more for a thicker insulation, nor takes up more for a thinner sheet', () => {
    const builds: WallBuild['insulation'][] = ['bare', '1 in', '2 in', '3 in'];
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 20_000, noNaN: true }),
        fc.double({ min: 0.6, max: 1.6, noNaN: true }),
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        (brimL, slender, sheetMm) => {
          const diameterM = ((4 * brimL) / 1000 / Math.PI / slender) ** (1 / 3);
          const losses = builds.map(
            (insulation) => estimateVessel(brimL, diameterM, { sheetMm, insulation }).lossWK,
          );
          expect(losses).toEqual([...losses].sort((a, b) => b - a));
          const thin = estimateVessel(brimL, diameterM, { sheetMm, insulation: 'bare' });
          const thick = estimateVessel(brimL, diameterM, {
            sheetMm: 2 * sheetMm,
            insulation: 'bare',
          });
          expect(thick.wallKJK).toBeGreaterThan(thin.wallKJK);
        },
      ),
    );
  });
});
