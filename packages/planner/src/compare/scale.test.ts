import type { HopAddition, Kit } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import type { MaltLot, PlanDocument } from '../document.ts';
import { ONE_PULL, pullInto, THREE_BARRELS, THREE_PULLS, weirsideDay } from '../three-barrels.ts';
import { inBags } from './bags.ts';
import { hopWortOf } from './not-kept.ts';
import { scaleTo } from './scale.ts';

/** The same house three times as large: volumes by three, sides by the cube root. */
const HOUSE: Kit = {
  ...THREE_BARRELS,
  id: 'k-house',
  name: 'Weirside ten-barrel',
  altitudeM: 500,
  vessels: THREE_BARRELS.vessels.map((v) => ({
    ...v,
    id: `${v.id}-10`,
    brimL: 3 * v.brimL,
    diameterM: v.diameterM * 3 ** (1 / 3),
    wallKJK: v.wallKJK * 3 ** (2 / 3),
    lossWK: v.lossWK * 3 ** (2 / 3),
    deadL: 3 * v.deadL,
  })),
  burners: THREE_BARRELS.burners.map((b) => ({
    ...b,
    heats: b.heats.map((id) => `${id}-10`),
    ratedKW: 2 * b.ratedKW,
  })),
  routes: [
    {
      id: 'mash-pump',
      name: 'mash pump',
      how: 'pump',
      portionL: 60,
      minutesPerPortion: 1,
      openAreaM2: 0.05,
      carrierKJK: 4,
      lineL: 6,
      hands: 1,
    },
  ],
};

const lot = (name: string, kg: number, more: Partial<MaltLot> = {}): MaltLot => ({
  name,
  kg,
  type: 'base',
  certificate: { colourEbc: 3.5, extractFinePct: 80, moisturePct: 5, diastaticWk: 280 },
  bagKg: 25,
  ...more,
});
const PILOT: PlanDocument = {
  ...ONE_PULL,
  beer: {
    ...ONE_PULL.beer,
    malts: [
      lot('pale', 64),
      lot('munich', 8, { certificate: { colourEbc: 16, extractFinePct: 78, moisturePct: 4 } }),
    ],
  },
  day: { ...ONE_PULL.day, preheatTunL: 12 },
};

const scaled = (...ask: Parameters<typeof scaleTo>) => {
  const found = scaleTo(...ask);
  if (!found.ok) throw new Error(found.whyNot);
  return found;
};

describe('from pilot to house kit', () => {
  it('keeps rests, boils, thickness and shares, and the wort with them', () => {
    const there = scaled(PILOT, HOUSE, { bags: 'scale' });
    expect(there.whyNot).toBe('');
    expect(there.document.mash.rests).toEqual(PILOT.mash.rests);
    expect(there.document.mash.raises[0]).toMatchObject({
      ...PILOT.mash.raises[0],
      pots: ['kettle-10'],
    });
    expect(there.document.mash.liquorLPerKg).toBe(PILOT.mash.liquorLPerKg);
    expect(there.document.kit).toEqual(HOUSE);
    expect(there.factor).toBeCloseTo(3, 9);
    expect(there.document.beer.malts.map((m) => m.kg)).toEqual(
      [192, 24].map((kg) => expect.closeTo(kg, 6)),
    );
    const { extractKgKg, limitApparentPct } = there.wort ?? {};
    expect(Math.abs((extractKgKg?.to ?? 0) / (extractKgKg?.from ?? 1) - 1)).toBeLessThan(0.02);
    expect(Math.abs((limitApparentPct?.to ?? 0) - (limitApparentPct?.from ?? 9))).toBeLessThan(1);
  });

  it.each([
    ['one pull', PILOT],
    ['three pulls', { ...THREE_PULLS, beer: PILOT.beer }],
  ])('%s there and back is the brew it was', (_, brew) => {
    const there = scaled(brew, HOUSE, { bags: 'scale', factor: 2.7 });
    const back = scaled(there.document, brew.kit, { bags: 'scale', factor: 1 / 2.7 });
    expect(back.document.mash).toEqual(brew.mash);
    expect(back.document.kit).toEqual(brew.kit);
    back.document.beer.malts.forEach((m, i) => {
      expect(m.kg).toBeCloseTo(brew.beer.malts[i]?.kg as number, 9);
    });
    expect(back.document.day.preheatTunL ?? 0).toBeCloseTo(brew.day.preheatTunL ?? 0, 9);
  });

  it('a house with a heated liquor tank heats there, and the pilot in its kettle again', () => {
    const [kettle] = HOUSE.vessels.filter((v) => v.role === 'kettle');
    if (!kettle) throw new Error('no kettle');
    const tank = { ...kettle, id: 'hot', name: 'hot tank', role: 'liquor-tank' as const };
    const element = {
      id: 'el',
      name: 'element',
      kind: 'element' as const,
      heats: ['hot'],
      ratedKW: 30,
    };
    const house = {
      ...HOUSE,
      vessels: [...HOUSE.vessels, tank],
      burners: [...HOUSE.burners, element],
    };
    const there = scaled(PILOT, house, { bags: 'scale', factor: 2 });
    expect(there.document.mash.liquorVessel).toBe('hot');
    const back = scaled(there.document, PILOT.kit, { bags: 'scale', factor: 1 / 2 });
    expect(back.document.mash).toEqual(PILOT.mash);
  });

  it('in half bags there and back is within half a step of each lot', () => {
    const there = scaled(PILOT, HOUSE, { factor: 2.7 });
    const back = scaled(there.document, PILOT.kit, { bags: 'scale', factor: 1 / 2.7 });
    back.document.beer.malts.forEach((m, i) => {
      const was = PILOT.beer.malts[i]?.kg as number;
      // Half a step of its own rounding, and half a step taken up for the lots before it.
      expect(Math.abs(m.kg - was)).toBeLessThanOrEqual(12.5 / 2.7 + 1e-9);
    });
  });

  it('names with figures on both kits what does not come along', () => {
    const { notKept } = scaled(PILOT, HOUSE, {});
    const row = (what: RegExp) => notKept.find((n) => what.test(n.what));
    for (const what of [
      /^Pull$/,
      /share of the mash/,
      /Heating pull/,
      /Slip/,
      /Arrival/,
      /boil off/,
      /Knocking out/,
    ])
      expect(row(what), String(what)).toBeDefined();
    // Three times the mash on twice the burner takes longer to boil; the altitude lowers the boil.
    expect(row(/Heating pull/)?.to.likely).toBeGreaterThan(
      row(/Heating pull/)?.from.likely as number,
    );
    expect(row(/Wort boils/)?.to.likely).toBeLessThan(row(/Wort boils/)?.from.likely as number);
    // Most that can boil off, by hand: 55 kW at 35 % is 19.25 kW, 30.69 kg/h at 2258 kJ/kg; kettle-full
    // 72 kg · (3.6 + 3.56 - 1.15 + 0.62 · 0.75) = 466.2 L.
    expect(row(/boil off/)?.from.likely).toBeCloseTo((100 * 30.69) / 466.2, 2);
  });

  it('says what the other kit lacks', () => {
    const noKettle = {
      ...HOUSE,
      vessels: HOUSE.vessels.filter((v) => v.role !== 'kettle'),
      burners: [],
    };
    const found = scaleTo(PILOT, noKettle);
    expect(!found.ok && found.whyNot).toMatch(/has nothing that does what kettle does/);
    const heat = weirsideDay({
      rests: PILOT.mash.rests,
      raises: [{ by: 'direct-heat' }],
      tun: 'kettle',
    });
    const onto = scaleTo({ ...heat, mash: { ...heat.mash, tun: 'tun' } }, HOUSE);
    expect(!onto.ok && onto.whyNot).toMatch(/No burner of Weirside ten-barrel heats mash tun/);
  });

  it('several pots that one kettle stands in for are one load; a size asked for is not shrunk', () => {
    const two = {
      ...pullInto('kettle', 15, 'thick'),
      pots: ['stock', 'kettle'],
    } as PlanDocument['mash']['raises'][number];
    const brew = { ...PILOT, mash: { ...PILOT.mash, raises: [two] } };
    const noPot = { ...HOUSE, vessels: HOUSE.vessels.filter((v) => v.role !== 'pot') };
    const onto = scaled(brew, noPot, { factor: 2 });
    expect(onto.document.mash.raises[0]).toMatchObject({ pots: ['kettle-10'], order: 'in-turn' });
    expect(onto.notes.join(' ')).toMatch(/kettle does what stock pot does/);
    const tooMuch = scaled(PILOT, HOUSE, { factor: 9 });
    expect(tooMuch.factor).toBe(9);
    expect(tooMuch.feasible).toBe(false);
    expect(tooMuch.whyNot).toMatch(/mash tun/);
  });
});

describe('bags', () => {
  it('rounding and its effect, by hand', () => {
    // 80 kg pale at 0.95 · 0.80 = 0.76 and 20 kg Munich at 0.96 · 0.78 = 0.7488: 60.8 + 14.976 = 75.776 kg.
    // Half bags: pale 80 -> 75 (6.4 steps), owed 3.8 kg of extract, which the Munich takes up as far as
    // half a step: 20 + 5.075 = 25.075 -> 25 kg. 57 + 18.72 = 75.72 kg: 0.07 % less extract.
    const munich = lot('munich', 20, {
      certificate: { colourEbc: 16, extractFinePct: 78, moisturePct: 4 },
    });
    const brew = { ...PILOT, beer: { ...PILOT.beer, malts: [lot('pale', 80), munich] } };
    const { malts, effect } = inBags(brew, 'half-bags');
    expect(malts.map((m) => m.kg)).toEqual([75, 25].map((kg) => expect.closeTo(kg, 9)));
    expect(effect.extractShare).toBeCloseTo(75.72 / 75.776 - 1, 9);
    expect(effect.gristShare).toBeCloseTo(0, 9);
    expect(effect.castOutL.rounded / effect.castOutL.exact).toBeCloseTo(75.72 / 75.776, 6);
    // Colour units go with kg · degree over extract: more Munich is darker.
    expect(effect.colourEbc?.rounded).toBeGreaterThan(effect.colourEbc?.exact as number);
  });

  it('less than one bag is weighed, and the scale rounds nothing', () => {
    const brew = { ...PILOT, beer: { ...PILOT.beer, malts: [lot('pale', 75), lot('roast', 1.5)] } };
    expect(inBags(brew, 'bags').malts[1]?.kg).toBeCloseTo(1.5, 2);
    const { malts, effect } = inBags(PILOT, 'scale');
    expect(malts).toEqual(PILOT.beer.malts);
    expect(effect.extractShare).toBe(0);
  });
});

describe('hops', () => {
  const HOPS: readonly HopAddition[] = [
    { name: 'bitter', grams: 150, alphaPct: 7, boilMin: 60 },
    { name: 'late', grams: 100, alphaPct: 4, boilMin: 5 },
  ];

  it('grams for the same bitterness, by each kit’s own utilisation', () => {
    const plain = scaled(PILOT, HOUSE, { bags: 'scale', hops: HOPS });
    const better = scaled(PILOT, HOUSE, {
      bags: 'scale',
      hops: HOPS,
      hopFactor: { from: 1, to: 1.2 },
    });
    expect(better.ibu).toBeCloseTo(plain.ibu as number, 9);
    // Kit factor 1.2: a sixth less hops, whatever else differs.
    better.hops?.forEach((h, i) => {
      expect(h.toG).toBeCloseTo((plain.hops?.[i]?.toG as number) / 1.2, 6);
    });
    expect(plain.notes.join(' ')).toMatch(/15-25 %/);
  });

  it('late hops stand longer where knocking out takes longer', () => {
    const { notKept, document } = scaled(PILOT, HOUSE, { bags: 'scale', hops: HOPS });
    const late = notKept.find((n) => n.what.startsWith('late'));
    const minutes = (d: PlanDocument) =>
      hopWortOf(d, 1).stand.reduce((sum, s) => sum + s.minutes, 0);
    expect(minutes(document)).toBeGreaterThan(minutes(PILOT));
    expect(late?.to.likely).toBeGreaterThan(late?.from.likely as number);
  });
});
