import { OutOfRange } from '@ladlework/matter';
import { describe, expect, it } from 'vitest';
import {
  addMash,
  advanceMash,
  compileMash,
  emptyMash,
  MashWorkspace,
  mashResults,
  RECOMMENDED_PARAMETERS,
  STANDARD_MALT,
  startMash,
  takeShares,
} from '../mash/index.ts';
import { wortChain } from './chain.ts';
import { chainDraws } from './chain-draws.ts';
import {
  type MashWort,
  mashWort,
  type WortChain,
  type WortChainInput,
  type WortStageName,
} from './chain-types.ts';

/** The reference house of the field notes: 149 kg, 520 L strike, pale lager of 12 °P, 821 L in the tank. */
const MASH: MashWort = { extractKg: 111, waterKg: 525, colourEbc: 2, precursorLeft: 0.8 };
const INPUT: WortChainInput = {
  mash: [MASH],
  draws: chainDraws(120, 11),
  gristKg: 149,
  malts: [
    { kg: 130, lovibond: 1.7 },
    { kg: 19, lovibond: 8 },
  ],
  precursorMgKg: 4,
  tun: { tC: 76, underL: 20, deadL: 4 },
  lauter: { kettleL: 977, readC: 90, targetPlato: 11, holdL: 15, fromMin: 275, flowLMin: 9 },
  kettle: {
    netKW: 40,
    site: { altitudeM: 120 },
    wallKJK: 60,
    brimL: 1250,
    deadL: 5,
    trubShare: 0.02,
    hopKeepsLPerKg: 6,
  },
  boil: {
    startC: 92,
    minutes: 70,
    hops: [
      { name: 'Bitter', grams: 900, alphaPct: 9, boilMin: 60 },
      { name: 'Late', grams: 700, alphaPct: 4, boilMin: 10 },
    ],
    stand: [{ tC: 96, minutes: 20 }],
  },
  cooler: {
    how: 'plate',
    uaWK: 9000,
    liquorLMin: 25,
    liquorInC: 5,
    mostWortLMin: 20,
    toC: 10,
    fromC: 93,
    lossShare: 0.02,
  },
};

const at = (chain: WortChain, name: WortStageName) => {
  const found = chain.stages.find((s) => s.stage === name);
  if (found === undefined) throw new Error(`no stage ${name}`);
  return found;
};
const width = (b: { low: number; high: number }) => b.high - b.low;

describe('from the tun to the tank', () => {
  const plain = wortChain(INPUT);

  // Field table (derived): kettle-full 950 L cold at 11.05 °P, cast-out 874 L at 12.0, tank 821 L.
  it('meets the reference house', () => {
    expect(Math.abs(at(plain, 'kettle-full').coldL.likely - 947)).toBeLessThan(8);
    expect(Math.abs(at(plain, 'kettle-full').plato.likely - 11.05)).toBeLessThan(0.35);
    expect(Math.abs(at(plain, 'cast-out').coldL.likely - 874)).toBeLessThan(15);
    expect(Math.abs(at(plain, 'cast-out').plato.likely - 12)).toBeLessThan(0.4);
    expect(Math.abs(at(plain, 'tank').coldL.likely - 821)).toBeLessThan(20);
    expect(plain.knockOut.minutes.likely).toBeGreaterThan(35);
    expect(plain.knockOut.minutes.likely).toBeLessThan(120);
  });

  it('accounts for all extract in every draw', () => {
    for (const draw of INPUT.draws.slice(0, 20)) {
      const one = wortChain({ ...INPUT, draws: [draw] });
      let extract = MASH.extractKg;
      for (const stage of one.stages) {
        extract -= stage.lostKg.likely;
        expect(stage.extractKg.likely).toBeCloseTo(extract, 8);
        expect(stage.lostKg.likely).toBeGreaterThanOrEqual(-1e-9);
      }
      const [kettle, castOut] = one.stages;
      expect(castOut?.waterKg.likely).toBeCloseTo(
        (kettle?.waterKg.likely ?? 0) - (one.boil.evaporationKgH.likely * 70) / 60,
        8,
      );
    }
  });

  it('a mash that gave more extract is felt at every later stage', () => {
    const rich = wortChain({ ...INPUT, mash: [{ ...MASH, extractKg: 1.03 * MASH.extractKg }] });
    for (const name of ['kettle-full', 'cast-out', 'knock-out', 'tank'] as const) {
      const gain = at(rich, name).extractKg.likely / at(plain, name).extractKg.likely;
      expect(gain).toBeGreaterThan(1.02);
      expect(gain).toBeLessThan(1.035);
      expect(at(rich, name).plato.likely).toBeGreaterThan(at(plain, name).plato.likely + 0.2);
    }
    expect(at(rich, 'tank').ibu?.likely).toBeLessThan(at(plain, 'tank').ibu?.likely ?? 0);
    const dark = wortChain({ ...INPUT, mash: [{ ...MASH, colourEbc: 6 }] });
    expect(at(dark, 'tank').colourEbc?.likely).toBeGreaterThan(
      (at(plain, 'tank').colourEbc?.likely ?? 0) + 1,
    );
  });

  // Solved by Balling and the density sum (derived): 10.0 and 2.0 °P make 4.21 % by volume.
  it('says what beer the wort can become', () => {
    const [draw] = INPUT.draws as [(typeof INPUT.draws)[number]];
    const limit = (limitApparentPct: number) =>
      wortChain({
        ...INPUT,
        mash: [{ ...MASH, limitApparentPct }],
        draws: [{ ...draw, sample: [0, 0, 0] }],
        read: { tank: { litres: 820, tC: 20, plato: 10, minute: 560 } },
      }).beer;
    expect(limit(80)?.endPlato.likely).toBeCloseTo(2, 9);
    expect(limit(80)?.abvPct.likely).toBeCloseTo(4.21, 1.9);
    expect(limit(84)?.abvPct.likely).toBeGreaterThan(limit(80)?.abvPct.likely ?? 0);
    expect(plain.beer).toBeUndefined();
  });

  it('takes one mash a draw, so that the doubt of the mash comes along', () => {
    const mash = INPUT.draws.map((draw) => ({
      ...MASH,
      extractKg: MASH.extractKg * (1 + 0.03 * draw.sample[0]),
    }));
    const wide = wortChain({ ...INPUT, mash });
    expect(width(at(wide, 'tank').plato)).toBeGreaterThan(1.2 * width(at(plain, 'tank').plato));
    expect(() => wortChain({ ...INPUT, mash: mash.slice(0, 3) })).toThrow(OutOfRange);
  });

  it('what is read replaces what was foretold, and narrows what follows', () => {
    const read = wortChain({
      ...INPUT,
      read: { kettleFull: { litres: 985, tC: 92, plato: 10.4, minute: 400 } },
    });
    const kettle = at(read, 'kettle-full');
    expect(kettle.measured).toBe(true);
    expect(kettle.plato.likely).toBeCloseTo(10.4, 1);
    expect(kettle.endMin).toEqual({ low: 400, likely: 400, high: 400 });
    expect(width(at(read, 'tank').plato)).toBeLessThan(width(at(plain, 'tank').plato));
    expect(at(read, 'cast-out').plato.likely).toBeLessThan(
      at(plain, 'cast-out').plato.likely - 0.3,
    );
    const later = wortChain({
      ...INPUT,
      read: { castOut: { litres: 905, tC: 98, plato: 12.3, minute: 480 } },
    });
    expect(at(later, 'tank').plato.likely).toBeCloseTo(12.3, 1);
    expect(at(later, 'tank').endMin.likely).toBeGreaterThan(500);
    const tank = wortChain({
      ...INPUT,
      read: { tank: { litres: 815, tC: 10, plato: 12.1, minute: 560 } },
    });
    expect(at(tank, 'tank').measured).toBe(true);
    expect(at(tank, 'tank').plato.likely).toBeCloseTo(12.1, 1);
  });

  it('readings during run-off narrow the tank, too', () => {
    const draws = chainDraws(200, 3);
    const before = wortChain({ ...INPUT, draws });
    // What the brewer of one of these kits would read.
    const truth = [draws[17] as (typeof draws)[number]];
    const readings = [200, 450, 700].map((collectedL) => {
      const { lauter } = wortChain({ ...INPUT, draws: truth, read: { lauter: [{ collectedL }] } });
      return {
        collectedL,
        kettlePlato: lauter.nowKettlePlato.likely,
        tapPlato: lauter.nowTapPlato.likely,
      };
    });
    const after = wortChain({ ...INPUT, draws, read: { lauter: readings } });
    expect(width(at(after, 'kettle-full').extractKg)).toBeLessThan(
      0.7 * width(at(before, 'kettle-full').extractKg),
    );
    expect(width(at(after, 'tank').extractKg)).toBeLessThan(width(at(before, 'tank').extractKg));
  });

  it('warm liquor in summer is said, a grist too dark has no colour but a note', () => {
    const summer = wortChain({ ...INPUT, cooler: { ...INPUT.cooler, liquorInC: 18 } });
    expect(summer.knockOut.reachedShare).toBe(0);
    expect(summer.knockOut.leftKWh.low).toBeGreaterThan(1);
    const black = wortChain({ ...INPUT, malts: [{ kg: 149, lovibond: 300 }] });
    expect(at(black, 'tank').colourEbc).toBeUndefined();
    expect(black.notes).toHaveLength(1);
    const { malts: _, precursorMgKg: __, ...bare } = INPUT;
    expect(at(wortChain(bare), 'tank').freeDmsUgL).toBeUndefined();
  });

  it('draining and refilling goes through as well, and gives less', () => {
    // As much liquor as the sparge of the same brew.
    const liquor = plain.lauter.spargeLeftL.likely;
    const batch = (fillsL: number[]) =>
      wortChain({ ...INPUT, lauter: { ...INPUT.lauter, fillsL } });
    const none = batch([liquor]);
    const two = batch([30, liquor - 30]);
    const extract = (chain: WortChain) => at(chain, 'kettle-full').extractKg.likely;
    expect(extract(none)).toBeLessThan(extract(two));
    expect(extract(two)).toBeLessThan(extract(plain));
    const litres = (chain: WortChain) => at(chain, 'kettle-full').coldL.likely;
    expect(Math.abs(litres(none) - litres(plain))).toBeLessThan(12);
  });

  it('a coil cools a small brew in the kettle', () => {
    const small: WortChainInput = {
      ...INPUT,
      mash: [{ ...MASH, extractKg: 5.6, waterKg: 26 }],
      gristKg: 7.5,
      malts: [{ kg: 7.5, lovibond: 2 }],
      tun: { tC: 76, underL: 1, deadL: 0.2 },
      lauter: { ...INPUT.lauter, kettleL: 49, holdL: 1, flowLMin: 1 },
      kettle: { ...INPUT.kettle, netKW: 3.5, wallKJK: 4, brimL: 70, deadL: 1 },
      boil: { ...INPUT.boil, hops: [{ name: 'Bitter', grams: 45, alphaPct: 9, boilMin: 60 }] },
      cooler: {
        how: 'coil',
        uaWK: 900,
        liquorLMin: 9,
        liquorInC: 12,
        toC: 20,
        fromC: 96,
        lossShare: 0.02,
      },
    };
    const chain = wortChain(small);
    expect(chain.knockOut.reachedShare).toBeCloseTo(1, 9);
    expect(chain.knockOut.minutes.likely).toBeGreaterThan(8);
    expect(chain.knockOut.minutes.likely).toBeLessThan(40);
    // What the kettle keeps: 1 L dead, 2 % trub, 6 L/kg of 45 g hops; then 2 % on the way.
    const castOut = at(chain, 'cast-out').coldL.likely;
    const left = (0.98 * castOut - 0.97 - 0.27) * 0.98;
    expect(Math.abs(at(chain, 'tank').coldL.likely - left)).toBeLessThan(0.3);
    const warm = wortChain({ ...small, cooler: { ...small.cooler, liquorInC: 21 } });
    expect(warm.knockOut.reachedShare).toBe(0);
    expect(warm.knockOut.leftKWh.likely).toBeGreaterThan(0);
  });

  it('DMS: some is left, more after a longer hot stand', () => {
    const free = (chain: WortChain) => at(chain, 'tank').freeDmsUgL?.likely ?? Number.NaN;
    expect(free(plain)).toBeGreaterThan(5);
    expect(free(plain)).toBeLessThan(300);
    const long = { ...INPUT, boil: { ...INPUT.boil, stand: [{ tC: 96, minutes: 60 }] } };
    expect(free(wortChain(long))).toBeGreaterThan(free(plain));
  });
});

describe('after the mash engine', () => {
  /** A step mash of 149 kg, one part boiled or not, as the kinetics give it. */
  function mashOf(boiled: boolean): MashWort {
    const grist = [{ malt: STANDARD_MALT, massKg: 149 }];
    const { state, brought } = startMash(grist, 525, RECOMMENDED_PARAMETERS);
    const compiled = compileMash(RECOMMENDED_PARAMETERS);
    const work = new MashWorkspace();
    const at = (vessel: Float64Array, minutes: number, tC: number) =>
      advanceMash(vessel, compiled, [0, minutes], [tC, tC], 1e-6, work);
    at(state, 30, 62);
    if (boiled) {
      const pull = emptyMash();
      takeShares(state, 0.4, 0.3, pull);
      at(pull, 10, 72);
      at(pull, 20, 100);
      at(state, 30, 61);
      addMash(state, pull);
    }
    at(state, 30, 72);
    at(state, 10, 77);
    return mashWort(mashResults(state, brought, RECOMMENDED_PARAMETERS));
  }

  it('what a decoction gave in extract and colour arrives in the tank', () => {
    const plain = mashOf(false);
    const boiled = mashOf(true);
    expect(boiled.extractKg).toBeGreaterThan(plain.extractKg);
    const tanks = [plain, boiled].map((mash) => at(wortChain({ ...INPUT, mash: [mash] }), 'tank'));
    const [a, b] = tanks as [(typeof tanks)[0], (typeof tanks)[0]];
    expect(b.extractKg.likely / a.extractKg.likely).toBeCloseTo(
      boiled.extractKg / plain.extractKg,
      2,
    );
    expect(b.colourEbc?.likely).toBeGreaterThan(a.colourEbc?.likely ?? 0);
    expect(a.plato.likely).toBeGreaterThan(10);
    expect(a.plato.likely).toBeLessThan(13.5);
  });
});
