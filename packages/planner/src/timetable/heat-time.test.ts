import { NOMINAL } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import { TWO_PULLS } from '../live-testing.ts';
import { heatUpMin, longestStand, parkTemperature } from './heat-time.ts';

/** The reference house's kettle: 15 kW net. */
const KIT = {
  ...TWO_PULLS.kit,
  vessels: [
    {
      id: 'kettle',
      name: 'Kettle',
      role: 'kettle' as const,
      brimL: 1250,
      diameterM: 1.1,
      wallKJK: 1,
      lossWK: 0,
      lid: true,
      deadL: 0,
    },
    {
      id: 'header',
      name: 'Header',
      role: 'liquor-tank' as const,
      brimL: 700,
      diameterM: 0.9,
      wallKJK: 40,
      lossWK: 25,
      lid: true,
      deadL: 0,
    },
  ],
  burners: [
    { id: 'fire', name: 'Fire', kind: 'steam-jacket' as const, heats: ['kettle'], ratedKW: 15 },
  ],
};

describe('heating', () => {
  it('takes 44 min for the sparge liquor by 18 K at 15 kW', () => {
    // @source reference/field.md 7: 531 L at 3.5 L/kg, "reheat by 18 K: 44 min at 15 kW", no losses
    const load = { vessel: 'kettle', burner: 'fire', waterKg: 531 * 0.98, fromC: 60 };
    expect(heatUpMin(KIT, load, 78, 18)).toBeCloseTo(44, -0.3);
  });

  it('is undefined when the burner cannot get there', () => {
    const weak = {
      ...KIT,
      burners: [{ ...(KIT.burners[0] as (typeof KIT.burners)[0]), ratedKW: 0.2 }],
    };
    const load = { vessel: 'kettle', burner: 'fire', waterKg: 500, fromC: 20 };
    expect(heatUpMin(weak, load, 'boil', 18)).toBeUndefined();
  });
});

describe('parking', () => {
  // A pump and a short hose: hardly a surface on the way.
  const route = {
    id: 'pump',
    name: 'Pump',
    how: 'pump' as const,
    portionL: 25,
    minutesPerPortion: 1,
    openAreaM2: 0.02,
    carrierKJK: 2,
    lineL: 0,
    hands: 1 as const,
  };
  const PIPED = { ...KIT, routes: [route] };
  const wish = {
    from: 'kettle',
    to: 'header',
    route,
    litres: 531,
    standMin: 210,
    useMin: 60,
    wantedC: 76,
  };

  it('lands on the wanted temperature half way through the use', () => {
    const p = parkTemperature(PIPED, wish, 18);
    expect(p).toBeDefined();
    if (!p) return;
    expect((p.firstC + p.lastC) / 2).toBeCloseTo(76, 1);
    expect(p.heatToC).toBeGreaterThan(p.parkedC);
  });

  it('must be hotter the longer it stands and the barer the tank', () => {
    const heat = (standMin: number, lossWK: number) => {
      const vessels = KIT.vessels.map((v) => (v.id === 'header' ? { ...v, lossWK } : v));
      return parkTemperature({ ...PIPED, vessels }, { ...wish, standMin }, 18)?.heatToC as number;
    };
    expect(heat(210, 25)).toBeGreaterThan(heat(60, 25));
    expect(heat(210, 40)).toBeGreaterThan(heat(210, 10));
  });

  it('is refused when even boiling liquor would be too cool', () => {
    const open = KIT.vessels.map((v) => (v.id === 'header' ? { ...v, lossWK: 500 } : v));
    expect(parkTemperature({ ...PIPED, vessels: open }, wish, 18, NOMINAL)).toBeUndefined();
  });

  it('may stand until boiling liquor would just do, and no longer', () => {
    const bare = KIT.vessels.map((v) => (v.id === 'header' ? { ...v, lossWK: 80 } : v));
    const kit = { ...PIPED, vessels: bare };
    const longest = longestStand(kit, wish, 18, 720);
    expect(longest).toBeGreaterThan(30);
    expect(longest).toBeLessThan(720);
    // A minute is the step of the curve.
    expect(parkTemperature(kit, { ...wish, standMin: longest - 1 }, 18)).toBeDefined();
    expect(parkTemperature(kit, { ...wish, standMin: longest + 2 }, 18)).toBeUndefined();
  });
});
