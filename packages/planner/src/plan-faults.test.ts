/** Faults found in plans, each with the case that showed it. */
import { type Kit, NOMINAL, simulate } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import { brewDay, dayOptions } from './day.ts';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import { planDay } from './plan-day.ts';
import { openingSituation, sizeStrike } from './size.ts';
import { playMash, sizeMash } from './stages.ts';
import { ONE_PULL, pullInto, THREE_BARRELS, THREE_PULLS, weirsideDay } from './three-barrels.ts';

const plan = (document: PlanDocument, changes = false) =>
  planDay(document, { draws: 60, mash: 'off', changes });

function played(document: PlanDocument) {
  const day = brewDay(document);
  const sized = sizeMash(day, sizeStrike(day), undefined);
  return { day, sized, on: (draw = NOMINAL) => playMash(day, sized, draw, undefined, false) };
}

const two = (pots: readonly string[], order: 'in-turn' | 'side-by-side'): PlanDocument =>
  weirsideDay({
    rests: [
      { tempC: 66, minutes: 60 },
      { tempC: 69, minutes: 10 },
    ],
    raises: [{ by: 'decoction', thickness: 'thin', pots, order, boilMinutes: 10 }],
  });

/** The stock pot grown to a hundred litres on a burner that boils it. */
const HUNDRED: Kit = {
  ...THREE_BARRELS,
  vessels: THREE_BARRELS.vessels.map((v) =>
    v.id === 'stock' ? { ...v, brimL: 100, diameterM: 0.5 } : v,
  ),
  burners: THREE_BARRELS.burners.map((b) => (b.id === 'stove' ? { ...b, ratedKW: 30 } : b)),
};

/** A second stock pot on a ring of its own. */
const TWIN: Kit = {
  ...THREE_BARRELS,
  vessels: [
    ...THREE_BARRELS.vessels,
    { ...(THREE_BARRELS.vessels[2] as Kit['vessels'][number]), id: 'stock-2', name: 'second pot' },
  ],
  burners: [
    ...THREE_BARRELS.burners,
    { id: 'ring', name: 'ring', kind: 'gas-hob', heats: ['stock-2'], ratedKW: 9 },
  ],
};

describe('a rest beside a pull', () => {
  const LONG = weirsideDay({
    rests: [
      { tempC: 62, minutes: 120 },
      { tempC: 66, minutes: 10 },
    ],
    raises: [pullInto('kettle', 5, 'thin')],
  });

  it('lasts the minutes asked for on every draw, however quick the hands', () => {
    const { day, on } = played(LONG);
    for (const draw of drawsFor(day.kit, 40, 5)) {
      const moves = on(draw).stages.flatMap((s) => s.moves);
      const start = moves.find((m) => m.id === 'rest-1')?.startMin ?? Number.NaN;
      const back = moves.find((m) => m.id === 'return-1')?.startMin ?? Number.NaN;
      expect(back - start).toBeCloseTo(120, 6);
    }
  });

  it('is over before the first of several loads goes back', () => {
    const document = two(['stock', 'stock'], 'in-turn');
    const long = {
      ...document,
      mash: {
        ...document.mash,
        rests: [
          { tempC: 66, minutes: 110 },
          { tempC: 69, minutes: 10 },
        ],
      },
    };
    const moves = played(long)
      .on()
      .stages.flatMap((s) => s.moves);
    const at = (id: string) => moves.find((m) => m.id === id)?.startMin ?? Number.NaN;
    expect(at('return-1a') - at('rest-1')).toBeGreaterThan(110 - 1e-6);
  });
});

describe('the pot before a pull', () => {
  it('is drained of strike liquor', () => {
    const { day, sized } = played(ONE_PULL);
    const trace = simulate(day.kit, openingSituation(day), sized.first, dayOptions(day));
    expect(trace.end.vessels.find((v) => v.vessel === 'kettle')?.waterKg).toBe(0);
  });

  it('is hot when its liquor is hot at the start: the strike is not wasted on its wall', () => {
    expect(played(ONE_PULL).sized.strike.tempC).toBeLessThan(68.5);
  });

  it('is empty but for its dead volume when the next pull goes in, what was kept having cooled', () => {
    const { on } = played(THREE_PULLS);
    const moves = on().stages.flatMap((s) => s.moves);
    for (const n of [1, 2]) {
      const kept = moves.find((m) => m.id === `kept-${n}`);
      expect(kept?.transfer?.keptL).toBeLessThan(3.1);
      // Within a kelvin of the rest it goes back to.
      expect(Math.abs((kept?.toC ?? 0) - (kept?.fromC ?? 0))).toBeLessThan(1.3);
    }
  });
});

describe('hands', () => {
  it('two pots side by side boil at the same time with one pair of hands', () => {
    const document = { ...two(['stock', 'stock-2'], 'side-by-side'), kit: TWIN };
    const alone = { ...document, day: { ...document.day, hands: ['B'] } };
    const moves = played(alone)
      .on()
      .stages.flatMap((s) => s.moves);
    const a = moves.find((m) => m.id === 'boil-1a');
    const b = moves.find((m) => m.id === 'boil-1b');
    expect(Math.abs((a?.startMin ?? 0) - (b?.startMin ?? 99))).toBeLessThan(12);
  });
});

describe('what a plan says of a pull', () => {
  it('names the moves of that pull and no other', () => {
    const [first, second] = plan(THREE_PULLS).returns;
    expect(first?.moveIds).toEqual({ pull: ['pull-1'], return: ['return-1'] });
    expect(second?.moveIds).toEqual({ pull: ['pull-2'], return: ['return-2'] });
  });

  it('mash in the kettle: counts what is boiled, not what is parked', () => {
    const kettleMash = weirsideDay({
      layout: 'kettle-mash',
      tun: 'kettle',
      park: 'tun',
      liquorVessel: 'kettle',
      rests: [
        { tempC: 62, minutes: 40 },
        { tempC: 70, minutes: 20 },
      ],
      raises: [pullInto('kettle', 10, 'thick')],
    });
    const p = plan(kettleMash);
    expect(p.clashes).toEqual([]);
    const [r] = p.returns;
    expect(Math.abs((r?.landingC.likely ?? 0) - 70)).toBeLessThan(1);
    const perL = (r?.pullKg.likely ?? 0) / (r?.pullL.likely ?? 1);
    expect(perL).toBeGreaterThan(0.95);
    expect(perL).toBeLessThan(1.2);
  });
});

describe('several loads in turn', () => {
  it('land on the rest together', () => {
    const p = plan({ ...two(['stock', 'stock'], 'in-turn'), kit: HUNDRED });
    const [r] = p.returns;
    expect(r?.potLoads).toHaveLength(2);
    expect(p.clashes).toEqual([]);
    expect(Math.abs((r?.landingC.likely ?? 0) - 69)).toBeLessThan(0.7);
  });
});

describe('raises without a pull', () => {
  const direct: Kit = {
    ...THREE_BARRELS,
    burners: [
      ...THREE_BARRELS.burners,
      { id: 'jacket', name: 'jacket', kind: 'steam-jacket', heats: ['tun'], ratedKW: 14 },
    ],
  };
  const rests = [
    { tempC: 62, minutes: 40 },
    { tempC: 68, minutes: 20 },
  ];

  it('by liquor reach the rest', () => {
    const p = plan(weirsideDay({ rests, raises: [{ by: 'liquor' }], liquorLPerKg: 2.8 }));
    expect(p.clashes).toEqual([]);
    expect(p.moves.find((m) => m.move.id === 'pour-1')?.toC.likely).toBeCloseTo(68, 1);
  });

  it('by direct heat reach the rest', () => {
    const p = plan(weirsideDay({ rests, raises: [{ by: 'direct-heat' }] }, direct));
    expect(p.clashes).toEqual([]);
    expect(p.moves.find((m) => m.move.id === 'raise-1')?.toC.likely).toBeCloseTo(68, 3);
  });
});

describe('boiling liquor beside a pull', () => {
  const beside = (liquorVessel: string): PlanDocument =>
    weirsideDay(
      {
        liquorVessel,
        liquorLPerKg: 3,
        rests: [
          { tempC: 64, minutes: 30 },
          { tempC: 69, minutes: 10 },
        ],
        raises: [
          {
            by: 'decoction',
            thickness: 'thin',
            pots: ['stock'],
            order: 'in-turn',
            boilMinutes: 10,
            boilingLiquorL: 25,
          },
        ],
      },
      HUNDRED,
    );

  it('is hot when the pull is back: nobody waits for the kettle', () => {
    const p = plan(beside('kettle'));
    const back = p.moves.find((m) => m.move.id === 'return-1')?.endMin.likely ?? 0;
    const pour = p.moves.find((m) => m.move.id === 'pour-1');
    expect((pour?.startMin.likely ?? 99) - back).toBeLessThan(5);
    expect(p.clashes).toEqual([]);
    expect(pour?.toC.likely).toBeCloseTo(69, 1);
  });

  it('that is too little is not called enough', () => {
    const document = beside('kettle');
    const mash = {
      ...document.mash,
      rests: [
        { tempC: 64, minutes: 30 },
        { tempC: 76, minutes: 10 },
      ],
    };
    expect(plan({ ...document, mash }).clashes.map((c) => c.code)).toContain('rest-not-reached');
  });
});

describe('changes that free a rest', () => {
  const stuck = weirsideDay(
    {
      rests: [
        { tempC: 66, minutes: 40 },
        { tempC: 74, minutes: 10 },
      ],
      raises: [pullInto('stock', 10, 'thin')],
    },
    HUNDRED,
  );

  it('each reach it, and nothing overfills', () => {
    const p = plan(stuck, true);
    expect(p.changes.length).toBeGreaterThan(1);
    for (const c of p.changes) {
      const target = c.code === 'lower-rest' ? c.amount : 74;
      expect(Math.abs(c.landingC.likely - target)).toBeLessThan(1.2);
      expect(plan(c.document).clashes, c.code).toEqual([]);
    }
  });

  it('a bigger pot is one the burner can boil', () => {
    expect(plan(stuck, true).changes.map((c) => c.code)).toContain('bigger-pot');
  });

  it('never offer liquor the tun has no room for', () => {
    const low = {
      ...THREE_BARRELS,
      vessels: THREE_BARRELS.vessels.map((v) => (v.id === 'tun' ? { ...v, brimL: 325 } : v)),
    };
    const codes = plan({ ...stuck, kit: low }, true).changes.map((c) => c.code);
    expect(codes).not.toContain('boiling-liquor');
  });
});

describe('a charge of a pint on the burners of a brewery', () => {
  it('is planned, or said to be impossible; it never ends in a fault of the sums', () => {
    for (const scale of [0.0063, 0.0102, 0.0141, 0.0165])
      for (const stronger of [1, 5, 15]) {
        const kit: Kit = {
          ...THREE_BARRELS,
          vessels: THREE_BARRELS.vessels.map((v) => ({
            ...v,
            brimL: Math.max(1, v.brimL * scale),
            diameterM: Math.max(0.1, v.diameterM * scale ** (1 / 3)),
            wallKJK: v.wallKJK * scale ** (2 / 3),
            lossWK: v.lossWK * scale ** (2 / 3),
            deadL: v.deadL * scale,
          })),
          burners: THREE_BARRELS.burners.map((b) => ({ ...b, ratedKW: b.ratedKW * stronger })),
        };
        for (const document of [ONE_PULL, THREE_PULLS]) {
          const malts = document.beer.malts.map((m) => ({ ...m, kg: m.kg * scale }));
          const small = { ...document, kit, beer: { ...document.beer, malts } };
          expect(() => planDay(small, { draws: 2, changes: false })).not.toThrow();
        }
      }
  });
});
