import { waterDensity } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { litresAt, platoOf } from './body.ts';
import { boil } from './boil.ts';
import { wortChain } from './chain.ts';
import { bedOfDraw, type ChainDraw, chainDraws } from './chain-draws.ts';
import type { WortChainInput } from './chain-types.ts';
import { hopResult } from './hops.ts';
import { runOff } from './lauter.ts';

/** A brew of any size that a house could do: thick or thin, weak or strong, sparged or not quite. */
const brew = fc.record({
  gristKg: fc.double({ min: 4, max: 400, noNaN: true }),
  liquorLPerKg: fc.double({ min: 2.6, max: 5, noNaN: true }),
  yieldShare: fc.double({ min: 0.55, max: 0.8, noNaN: true }),
  kettleLPerKg: fc.double({ min: 4, max: 7.5, noNaN: true }),
  boilMin: fc.double({ min: 30, max: 120, noNaN: true }),
  perHour: fc.double({ min: 0.03, max: 0.14, noNaN: true }),
  hopGPerKg: fc.double({ min: 0, max: 25, noNaN: true }),
  sugarShare: fc.double({ min: 0, max: 0.1, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
});
type Brew = typeof brew extends fc.Arbitrary<infer T> ? T : never;

function inputOf(b: Brew, draws: readonly ChainDraw[]): WortChainInput {
  const kettleL = b.gristKg * b.kettleLPerKg;
  return {
    mash: [
      {
        extractKg: b.gristKg * b.yieldShare,
        waterKg: b.gristKg * b.liquorLPerKg,
        colourEbc: 1.5,
        precursorLeft: 0.7,
      },
    ],
    draws,
    gristKg: b.gristKg,
    malts: [{ kg: b.gristKg, lovibond: 2 }],
    precursorMgKg: 4,
    tun: { tC: 75, underL: 0.1 * b.gristKg, deadL: 0.03 * b.gristKg },
    lauter: { kettleL, readC: 70, targetPlato: 11, fromMin: 200, flowLMin: kettleL / 120 },
    kettle: {
      netKW: 0.65 * kettleL * b.perHour,
      site: { altitudeM: 150 },
      wallKJK: 0.05 * kettleL,
      brimL: 1.3 * kettleL,
      deadL: 0.005 * kettleL,
      trubShare: 0.02,
      hopKeepsLPerKg: 6,
    },
    boil: {
      startC: 75,
      minutes: b.boilMin,
      hops: [
        { name: 'first', grams: b.hopGPerKg * b.gristKg, alphaPct: 6, boilMin: b.boilMin * 0.8 },
        { name: 'stand', grams: b.hopGPerKg * b.gristKg, alphaPct: 4, boilMin: 'stand' },
      ],
      stand: [{ tC: 95, minutes: 20 }],
      extractKg: b.sugarShare * b.gristKg,
    },
    cooler: {
      how: 'plate',
      uaWK: 9 * kettleL,
      liquorLMin: kettleL / 20,
      liquorInC: 10,
      mostWortLMin: kettleL / 35,
      toC: 16,
      fromC: 94,
      lossShare: 0.02,
    },
  };
}

const one = (b: Brew) => {
  const [draw] = chainDraws(1, b.seed) as [ChainDraw];
  return { draw, input: inputOf(b, [draw]) };
};

describe('whatever is brewed', () => {
  it('extract is lost only where it is said to be lost', () => {
    fc.assert(
      fc.property(brew, (b) => {
        const { input } = one(b);
        const { stages } = wortChain(input);
        let kg = (input.mash[0]?.extractKg ?? 0) + 0;
        for (const s of stages) {
          if (s.stage === 'cast-out') kg += input.boil.extractKg ?? 0;
          kg -= s.lostKg.likely;
          expect(Math.abs(s.extractKg.likely - kg)).toBeLessThan(1e-6 * b.gristKg);
          expect(s.lostKg.likely).toBeGreaterThanOrEqual(-1e-9 * b.gristKg);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('water goes with the mash, comes with the sparge and leaves as steam, and no other way', () => {
    fc.assert(
      fc.property(brew, (b) => {
        const { draw, input } = one(b);
        const { stages, boil: told } = wortChain(input);
        const [kettle, castOut, toCooler, tank] = stages;
        const mash = input.mash[0] as WortChainInput['mash'][number];
        const bed = bedOfDraw(draw, { gristKg: b.gristKg, mash, ...input.tun });
        const kettleL = litresAt(
          {
            extractKg: kettle?.extractKg.likely ?? 0,
            waterKg: kettle?.waterKg.likely ?? 0,
          },
          input.tun.tC,
        );
        const run = runOff(bed, { kettleL });
        const spargeKg = (run.spargeL * waterDensity(input.tun.tC)) / 1000;
        expect(
          Math.abs(mash.waterKg + spargeKg - run.left.waterKg - run.kettle.waterKg),
        ).toBeLessThan(1e-6 * mash.waterKg);
        const steam = (told.evaporationKgH.likely * b.boilMin) / 60;
        expect(
          Math.abs((castOut?.waterKg.likely ?? 0) + steam - (kettle?.waterKg.likely ?? 0)),
        ).toBeLessThan(1e-6 * mash.waterKg);
        // What stays in kettle, hoses and trub is wort of the same strength.
        for (const s of [toCooler, tank])
          expect(s?.plato.likely).toBeCloseTo(castOut?.plato.likely ?? 0, 9);
      }),
      { numRuns: 60 },
    );
  });

  it('no more alpha acid is found again than was given, and every addition is counted once', () => {
    fc.assert(
      fc.property(brew, (b) => {
        const { input } = one(b);
        const run = boil(input.kettle, {
          wort: { extractKg: 0.12 * b.gristKg * 5, waterKg: 0.88 * b.gristKg * 5 },
          startC: 75,
          startMin: 0,
          minutes: b.boilMin,
          hops: input.boil.hops,
          stand: input.boil.stand,
        });
        const sum = run.hops.additions.reduce((x, a) => x + a.ibu, 0);
        expect(run.hops.ibu).toBeCloseTo(sum, 9);
        for (const a of run.hops.additions) {
          expect(a.isoMg).toBeGreaterThanOrEqual(0);
          expect(a.isoMg).toBeLessThanOrEqual(a.alphaMg);
          expect(a.isoMg).toBeCloseTo(a.ibu * run.coldL, 6);
        }
        // Twice the hops, twice the bitterness: nothing saturates here, and the thesis has 90 mg/L at pH 5.2.
        const twice = hopResult(
          input.boil.hops.map((h) => ({ ...h, grams: 2 * h.grams })),
          { sg: 1.048, boilC: 99, stand: input.boil.stand, coldL: 100 },
        );
        const once = hopResult(input.boil.hops, {
          sg: 1.048,
          boilC: 99,
          stand: input.boil.stand,
          coldL: 100,
        });
        if (Math.max(...twice.additions.map((a) => a.utilisation)) < 1)
          expect(twice.ibu).toBeCloseTo(2 * once.ibu, 6);
      }),
      { numRuns: 60 },
    );
  });

  it('a reading at any step is what follows from there on, and changes nothing before it', () => {
    fc.assert(
      fc.property(brew, fc.double({ min: 0.9, max: 1.1, noNaN: true }), (b, by) => {
        const { draw, input } = one(b);
        const exact = { ...draw, dip: 1, sample: [0, 0, 0] as const };
        const plain = wortChain({ ...input, draws: [exact] });
        const minute = (plain.stages[1]?.endMin.likely ?? 0) + 5;
        const castOut = {
          litres: by * (plain.stages[1]?.coldL.likely ?? 0),
          tC: 20,
          plato: Math.min(30, by * (plain.stages[1]?.plato.likely ?? 0)),
          minute,
        };
        const read = wortChain({ ...input, draws: [exact], read: { castOut } });
        expect(read.stages[0]).toEqual(plain.stages[0]);
        expect(read.stages[1]?.coldL.likely).toBeCloseTo(castOut.litres, 6);
        expect(read.stages[1]?.plato.likely).toBeCloseTo(castOut.plato, 6);
        expect(read.stages[3]?.plato.likely).toBeCloseTo(castOut.plato, 6);
        expect(
          Math.sign(
            (read.stages[3]?.extractKg.likely ?? 0) - (plain.stages[3]?.extractKg.likely ?? 0),
          ),
        ).toBe(Math.abs(by - 1) < 1e-9 ? 0 : Math.sign(by - 1));
      }),
      { numRuns: 40 },
    );
  });
});

describe('against what is printed', () => {
  // physics.md 4.3 (derived): 2, 3.5, 5 and 10 kW net boil off 3.19, 5.58, 7.98 and 15.95 kg/h.
  it.each([
    [2, 3.19],
    [3.5, 5.58],
    [5, 7.98],
    [10, 15.95],
  ])('%f kW boil off %f kg/h, whatever stands in the kettle', (netKW, kgH) => {
    for (const waterKg of [40, 400]) {
      const run = boil(
        { ...inputOf(BREW, []).kettle, netKW, site: { altitudeM: 0 }, brimL: 1000, deadL: 0 },
        {
          wort: { extractKg: 1e-6, waterKg },
          startC: 99,
          startMin: 0,
          minutes: 30,
          hops: [],
          stand: [],
        },
      );
      expect(Math.abs(run.evaporationKgH - kgH)).toBeLessThan(0.006);
    }
  });

  // physics.md 4.3 (common practice): 18 L down to 15 in 90 min is 2 L/h, near 1.25 kW.
  it('a small pot that loses a litre in half an hour has 1.2 to 1.4 kW in it', () => {
    const run = boil(
      { ...inputOf(BREW, []).kettle, netKW: 1.25, brimL: 30, deadL: 0, trubShare: 0 },
      {
        wort: { extractKg: 2, waterKg: 15.8 },
        startC: 99,
        startMin: 0,
        minutes: 90,
        hops: [],
        stand: [],
      },
    );
    expect(Math.abs(run.evaporatedKg - 3)).toBeLessThan(0.15);
  });

  // Black 1849, A Practical Treatise on Brewing: deduct 10 % of the hot copper for evaporation,
  // shrinkage and hops together. It was meant for great coppers: 3 % an hour and little hops.
  it('the old gauge rule holds for a great copper', () => {
    const { stages } = wortChain(
      inputOf({ ...BREW, perHour: 0.035, hopGPerKg: 3, boilMin: 90 }, chainDraws(40, 3)),
    );
    const [kettle, , toCooler] = stages;
    const hotL = litresAt(
      { extractKg: kettle?.extractKg.likely ?? 0, waterKg: kettle?.waterKg.likely ?? 0 },
      100,
    );
    expect(Math.abs((toCooler?.coldL.likely ?? 0) / hotL - 0.9)).toBeLessThan(0.035);
  });

  // wort-to-beer.md 3.1: hops hold 6 L/kg after draining (common practice).
  it('hops keep their litres', () => {
    const kept = (hopGPerKg: number) => {
      const input = inputOf({ ...BREW, hopGPerKg }, []);
      const run = boil(input.kettle, {
        wort: { extractKg: 60, waterKg: 440 },
        startC: 99,
        startMin: 0,
        minutes: 60,
        hops: input.boil.hops,
        stand: [],
      });
      expect(platoOf(run.toCooler)).toBeCloseTo(run.plato, 9);
      return run.leftBehind.hopsL;
    };
    expect(kept(10)).toBeCloseTo(6 * 2 * 0.01 * BREW.gristKg, 9);
    expect(kept(0)).toBe(0);
  });
});

const BREW: Brew = {
  gristKg: 100,
  liquorLPerKg: 3.4,
  yieldShare: 0.74,
  kettleLPerKg: 6,
  boilMin: 70,
  perHour: 0.07,
  hopGPerKg: 8,
  sugarShare: 0,
  seed: 7,
};
