import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { applyEntry } from '../live-apply.ts';
import { openDay } from '../live-session.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL } from '../three-barrels.ts';
import { castOutOf } from './cast-out.ts';
import { wortDay } from './day.ts';
import type { WortDay } from './day-types.ts';
import { mashAhead } from './mash-ahead.ts';
import { wortPlan } from './plan-of.ts';
import type { WortEntry, WortPlan } from './plan-types.ts';

const BREWED: PlanDocument = {
  ...ONE_PULL,
  beer: {
    ...ONE_PULL.beer,
    hops: [
      { name: 'Bitter', kg: 0.5, alphaPct: 7, boilMin: 60 },
      { name: 'Late', kg: 0.4, alphaPct: 4, boilMin: 10 },
    ],
    target: { tankL: 340, ibu: 26 },
    yeast: { name: 'House', kind: 'lager', pitchC: 14 },
  },
};
const plan = planDay(BREWED, { draws: 50 });
const { mash, stages } = plan.wortPlan as WortPlan;
/** Strength that this grist gives, to a tenth: the beer wanted. */
const WANTED = Number((stages[3]?.plato.likely ?? 0).toFixed(1));
const DAY: PlanDocument = {
  ...BREWED,
  beer: {
    ...BREWED.beer,
    target: { ...BREWED.beer.target, extract: { by: 'weight', plato: WANTED } },
  },
};
const wort = wortPlan(DAY, mash, { draws: 120 });
const open = wort.lauter.fromMin.likely;

const day = (entries: readonly WortEntry[], nowMin = open, document = DAY): WortDay =>
  wortDay({ document, mash: wort.mash, entries, nowMin, draws: 120 });
const at = (d: WortDay, stage: string) => {
  const found = d.stages.find((s) => s.stage === stage);
  if (found === undefined) throw new Error(`no stage ${stage}`);
  return found;
};
const width = (b: { low: number; high: number }) => b.high - b.low;

const begun = (move: 'run-off' | 'boil-wort' | 'knock-out', atMin: number): WortEntry => ({
  kind: 'begun',
  move,
  atMin,
});
const read = (
  point: 'run-off' | 'kettle-full' | 'cast-out' | 'knock-out' | 'tank',
  atMin: number,
  figures: object,
): WortEntry => ({ kind: 'read', atMin, read: { point, ...figures } });

/** Litres of a full kettle as read at 70 °C, and its strength, as planned. */
const FULL = { litres: wort.lauter.kettleL, plato: wort.stages[0]?.plato.likely ?? 0, tempC: 70 };
const fullMin = wort.stages[0]?.endMin.likely ?? 0;

describe('before the tap opens', () => {
  const now = day([]);

  it('is the plan', () => {
    expect(now.at).toBe('mash');
    expect(now.next.move).toBe('run-off');
    for (const stage of wort.stages)
      expect(Math.abs(at(now, stage.stage).plato.likely - stage.plato.likely)).toBeLessThan(0.05);
    expect(now.kettle).toBeUndefined();
    expect(JSON.parse(JSON.stringify(now))).toEqual(now);
  });

  it('moves everything on when the tap is late', () => {
    const late = day([], open + 40);
    expect(at(late, 'tank').endMin.likely - at(now, 'tank').endMin.likely).toBeCloseTo(40, 0);
  });
});

describe('a sample written down by itself', () => {
  const mid = open + 40;
  const apart = (plato: number, later: number): WortEntry[] => [
    begun('run-off', open),
    read('run-off', mid, { litres: 160, tempC: 70 }),
    read('run-off', mid + later, { plato }),
  ];

  it('belongs to the dip just before, as if both had been written at once', () => {
    const together = [
      begun('run-off', open),
      read('run-off', mid, { litres: 160, tempC: 70, plato: 15 }),
    ];
    const now = day(apart(15, 1), mid + 2).lauter;
    expect(now.readPlato).toBe(15);
    expect(now.collectedL).toBeCloseTo(160, 6);
    expect(now.fullPlato.likely).toBeCloseTo(day(together, mid + 2).lauter.fullPlato.likely, 9);
  });

  it('long after a dip belongs to the litres there are by then', () => {
    expect(day(apart(14, 10), mid + 10).lauter.collectedL).toBeCloseTo(200, 6);
  });
});

describe('a reading of the run-off', () => {
  const half = wort.lauter.course[6];
  const L = half?.collectedL ?? 0;
  const P = half?.kettlePlato.likely ?? 0;
  const mid = open + L / wort.lauter.flowLMin;
  const entries = (plato: number): WortEntry[] => [
    begun('run-off', open),
    read('run-off', mid, { litres: L, tempC: 70, plato }),
  ];

  it('as foretold changes nothing but the doubt', () => {
    const now = day(entries(P), mid);
    expect(now.at).toBe('run-off');
    expect(Math.abs(now.lauter.nowKettlePlato.likely - P)).toBeLessThan(0.1);
    expect(width(at(now, 'kettle-full').plato)).toBeLessThan(
      width(wort.stages[0]?.plato ?? { low: 0, high: 0 }),
    );
    expect(width(at(now, 'kettle-full').endMin)).toBeLessThan(width(wort.lauter.minutes));
  });

  it('re-forecasts every stage after it', () => {
    const now = day(entries(P - 0.5), mid);
    for (const stage of ['kettle-full', 'cast-out', 'knock-out', 'tank'])
      expect(at(now, stage).plato.likely).toBeLessThan(at(day([]), stage).plato.likely - 0.1);
    expect(now.lauter.missPlato).toBeLessThan(now.lauter.readPlato === undefined ? 0 : 10);
    expect(now.lauter.neededNowPlato).toBeGreaterThan(0);
  });

  // gravity needed now: field.md, "the gravity you should have now" (common practice)
  it('says what the kettle must show now for the beer wanted', () => {
    const needed = day(entries(P), mid).lauter.neededNowPlato ?? 0;
    const low = day(entries(needed - 0.35), mid).lauter;
    expect(low.missPlato).toBeLessThan(-0.25);
    expect(low.advice).toMatch(/under what the beer needs/);
    const high = day(entries(needed + 0.35), mid).lauter;
    expect(high.missPlato).toBeGreaterThan(0.25);
    expect(high.advice).toMatch(/over what the beer needs/);
  });

  it('at the litre to shut at says so, and not after it was shut', () => {
    const shutL = wort.lauter.shutAtL.high + 2;
    const later = open + shutL / wort.lauter.flowLMin;
    const dip = read('run-off', later, { litres: shutL, tempC: 70 });
    const now = day([begun('run-off', open), dip], later);
    expect(now.lauter.advice).toMatch(/Shut the sparge now/);
    const shut = day(
      [begun('run-off', open), dip, { kind: 'begun', move: 'sparge-shut', atMin: later }],
      later,
    );
    expect(shut.lauter.advice).not.toMatch(/Shut the sparge/);
    expect(shut.lauter.spargeLeftL.likely).toBeLessThan(1);
  });

  it('of a flow that dies gives the remedies in order', () => {
    const flows = [3.4, 3.3, 2.4, 1.4, 0.8].map((flowLMin, i) =>
      read('run-off', open + 5 * i + 5, {
        litres: 15 * (i + 1),
        flowLMin,
        headM: 0.1,
        tapPlato: 18,
      }),
    );
    const now = day([begun('run-off', open), ...flows], open + 30);
    expect(now.lauter.watch?.state).not.toBe('running');
    expect(now.lauter.remedies.length).toBeGreaterThan(3);
    expect(now.lauter.remedies.find((r) => r.what === 'underlet')?.liquorL).toBeGreaterThan(1);
  });

  it('of runnings under 2 °P or over pH 6 says stop', () => {
    const thin = read('run-off', mid, { litres: L, tapPlato: 1.4 });
    expect(day([begun('run-off', open), thin], mid).lauter.advice).toMatch(/^(Stop|The readings)/);
    const ph = [
      read('run-off', mid - 20, { litres: L - 60, tapPh: 5.7 }),
      read('run-off', mid, { litres: L, tapPh: 6.05 }),
    ];
    const now = day([begun('run-off', open), ...ph], mid).lauter;
    expect(now.stopByPhL).toBe('now');
    expect(now.advice).toMatch(/^Stop/);
  });
});

describe('the full kettle', () => {
  const weak = { ...FULL, plato: FULL.plato - 1.2 };
  const entries: WortEntry[] = [begun('run-off', open), read('kettle-full', fullMin, weak)];
  const now = day(entries, fullMin);

  it('stands measured, and lays the ways on side by side', () => {
    expect(now.at).toBe('kettle-full');
    expect(at(now, 'kettle-full').measured).toBe(true);
    expect(now.kettle?.options.map((o) => o.way)).toEqual(['accept', 'boil-longer', 'add-extract']);
    for (const option of now.kettle?.options.slice(1) ?? []) {
      if (!option.possible) continue;
      expect(Math.abs(option.plato - (now.kettle?.wantedPlato ?? 0))).toBeLessThan(0.15);
      expect(Math.abs(option.ibu - 26)).toBeLessThan(1.5);
    }
    const [accept, longer, extract] = now.kettle?.options ?? [];
    expect(longer?.finishMin).toBeGreaterThan(accept?.finishMin ?? 0);
    expect(longer?.castOutL).toBeLessThan(accept?.castOutL ?? 0);
    expect(extract?.extractInKettleKg).toBeGreaterThan(accept?.extractInKettleKg ?? 0);
  });

  it('the way chosen is what follows', () => {
    const longer = now.kettle?.options.find((o) => o.way === 'boil-longer');
    if (longer === undefined) throw new Error('no such way');
    const { way, minutes, liquorL, extractKg } = longer;
    const chosen = day(
      [...entries, { kind: 'chosen', way, minutes, liquorL, extractKg, atMin: fullMin + 2 }],
      fullMin + 2,
    );
    expect(chosen.kettle?.chosen).toBe('boil-longer');
    expect(chosen.boil.minutes).toBe(minutes);
    expect(Math.abs(at(chosen, 'cast-out').plato.likely - longer.plato)).toBeLessThan(0.1);
    expect(Math.abs((at(chosen, 'cast-out').ibu?.likely ?? 0) - longer.ibu)).toBeLessThan(1);
  });

  it('too strong is thinned or boiled shorter', () => {
    const strong = read('kettle-full', fullMin, { ...FULL, plato: FULL.plato + 1 });
    const ways = day([begun('run-off', open), strong], fullMin).kettle?.options ?? [];
    expect(ways.map((o) => o.way)).toEqual(['accept', 'boil-shorter', 'add-liquor']);
    const liquor = ways.find((o) => o.way === 'add-liquor');
    expect(Math.abs((liquor?.plato ?? 0) - WANTED)).toBeLessThan(0.15);
    expect(liquor?.castOutL).toBeGreaterThan(ways[0]?.castOutL ?? 0);
  });
});

describe('boil, knock-out and tank', () => {
  const boilMin = fullMin + 12;
  const until = (more: readonly WortEntry[], nowMin: number) =>
    day(
      [
        begun('run-off', open),
        read('kettle-full', fullMin, FULL),
        begun('boil-wort', boilMin),
        ...more,
      ],
      nowMin,
    );

  it('hops go in on minutes counted from the boil that was seen', () => {
    const now = until([], boilMin + 5);
    expect(now.at).toBe('boil');
    expect(now.boil.endMin.likely).toBeCloseTo(boilMin + 70, 6);
    expect(now.boil.hops.map((h) => h.atMin - boilMin)).toEqual([10, 60]);
  });

  it('a boil that runs over goes on until somebody ends it', () => {
    const now = until([], boilMin + 85);
    expect(now.boil.endMin.likely).toBeCloseTo(boilMin + 85, 6);
    expect(at(now, 'cast-out').plato.likely).toBeGreaterThan(
      at(until([], boilMin + 5), 'cast-out').plato.likely,
    );
  });

  const castOut = {
    litres: 370,
    tempC: 98,
    plato: WANTED + 0.8,
    ph: 5.2,
    phC: 20,
  };

  it('a reading of the cast-out wort stands, and says how to mend it', () => {
    const now = until([read('cast-out', boilMin + 70, castOut)], boilMin + 71);
    expect(now.at).toBe('stand');
    expect(at(now, 'cast-out').measured).toBe(true);
    expect(now.boil.correction?.liquorL).toBeGreaterThan(0);
    expect(now.boil.correction?.platoMiss).toBeCloseTo(0.8, 1);
  });

  it('the flow into the tank says when the knock-out ends', () => {
    const from = boilMin + 100;
    const slow = [
      begun('knock-out', from),
      read('knock-out', from + 30, { litres: 120, wortOutC: 19, liquorInC: 13 }),
    ];
    const now = until(slow, from + 30);
    expect(now.at).toBe('knock-out');
    const litres = at(now, 'tank').coldL.likely;
    expect(now.knockOut.endMin.likely).toBeCloseTo(from + litres / 4, 0);
    expect(at(now, 'tank').endMin.likely).toBe(now.knockOut.endMin.likely);
    expect(now.knockOut.advice).toMatch(/19\.0 °C/);
    expect(now.knockOut.liquorInC).toBe(13);
  });

  it('the tank as read is what is pitched', () => {
    const full = read('tank', boilMin + 160, { litres: 332, tempC: 14, plato: 12.9 });
    const now = until([full], boilMin + 161);
    expect(now.at).toBe('tank');
    expect(at(now, 'tank').measured).toBe(true);
    expect(now.next.move).toBe('pitch');
    // 1.5 million cells for each mL and °P: G. Fix, second hand (wort-to-beer.md 4.1).
    const cells = (now.pitch?.cells ?? 0) / (1.5e6 * 12.9 * 1000 * at(now, 'tank').coldL.likely);
    expect(Math.abs(cells - 1)).toBeLessThan(0.02);
    expect(now.account.map((line) => line.stage)).toEqual([
      'mash',
      'kettle-full',
      'cast-out',
      'knock-out',
      'tank',
    ]);
  });
});

describe('the liquor', () => {
  const document: PlanDocument = {
    ...DAY,
    kit: {
      ...DAY.kit,
      liquor: {
        report: {
          calciumMgL: 52,
          magnesiumMgL: 12,
          sodiumMgL: 18,
          chlorideMgL: 24,
          sulphateMgL: 45,
          alkalinityMgLCaCO3: 130,
          ph: 7.4,
        },
        salts: [{ salt: 'gypsum' }],
      },
    },
    beer: { ...DAY.beer, target: { ...DAY.beer.target, mashPh: 5.4 } },
  };
  const at = (mashPh?: { ph: number; tC: number }) =>
    wortDay({
      document,
      mash: wort.mash,
      entries: [],
      nowMin: 0,
      draws: 20,
      ...(mashPh === undefined ? {} : { mashPh }),
    }).liquor;

  it('is dosed for the pH wanted', () => {
    const plan = at();
    expect(plan?.mashPh.withoutAcid.likely).toBeGreaterThan(5.45);
    expect(Math.abs((plan?.mashPh.ph.likely ?? 0) - 5.4)).toBeLessThan(0.01);
    expect(plan?.mashPh.afterDecoctions.likely).toBeLessThan(5.4);
  });

  it('a pH that was read overrules the balance, and the acid follows it', () => {
    const read = at({ ph: 5.45, tC: 20 });
    expect(read?.mashPh.withoutAcid.likely).toBe(5.45);
    expect(Math.abs((read?.mashPh.ph.likely ?? 0) - 5.4)).toBeLessThan(0.01);
    expect(read?.mashPh.acidML).toBeLessThan(at()?.mashPh.acidML ?? 0);
    // -0.0078 pH/K (Briggs et al., second hand): the same mash read at 65 °C shows 0.35 less.
    expect(at({ ph: 5.1, tC: 65 })?.mashPh.withoutAcid.likely).toBeCloseTo(5.45, 2);
  });
});

describe('the running mash', () => {
  const session = openDay(
    DAY,
    plan.moves.map((m) => m.move),
    { draws: 40 },
  );

  it('before anything happened comes to what was planned', () => {
    const ahead = mashAhead(session, 0, wort.mash);
    expect(Math.abs(ahead.likely.extractKg / wort.mash.likely.extractKg - 1)).toBeLessThan(0.01);
    expect(Math.abs(ahead.endMin - wort.mash.endMin)).toBeLessThan(10);
    expect(
      Math.abs((ahead.likely.limitApparentPct ?? 0) - (wort.mash.likely.limitApparentPct ?? 0)),
    ).toBeLessThan(1);
  });

  it('read hotter than planned, attenuates less, and the chain says so', () => {
    const mashed = plan.moves.find((m) => m.move.id === 'mash-in')?.endMin.likely ?? 30;
    const tun = DAY.mash.tun;
    const with67 = [
      { kind: 'begun', moveId: 'mash-in', atMin: mashed - 8 },
      { kind: 'done', moveId: 'mash-in', atMin: mashed },
      {
        kind: 'reading',
        confirmed: true,
        reading: { vessel: tun, what: 'temp', value: 69, atMin: mashed + 2, sd: 0.3 },
      },
    ] as const;
    const hot = with67.reduce(applyEntry, session);
    const ahead = mashAhead(hot, mashed + 2, wort.mash);
    expect(ahead.likely.limitApparentPct ?? 100).toBeLessThan(
      (wort.mash.likely.limitApparentPct ?? 0) - 0.5,
    );
    const as = (mash: typeof ahead) => castOutOf({ document: DAY, mash, draws: 40 });
    expect(as(ahead).limitApparentPct?.likely ?? 100).toBeLessThan(
      as(wort.mash).limitApparentPct?.likely ?? 0,
    );
  });

  it('castOutOf is the plan carried on, and hears what was read', () => {
    const plain = castOutOf({ document: DAY, mash: wort.mash, draws: 120 });
    expect(Math.abs(plain.plato.likely - (wort.stages[1]?.plato.likely ?? 0))).toBeLessThan(0.1);
    expect(Math.abs(plain.tankL.likely - 340)).toBeLessThan(6);
    const thin = read('kettle-full', fullMin, { ...FULL, plato: FULL.plato - 1 });
    const read1 = castOutOf({ document: DAY, mash: wort.mash, entries: [thin], draws: 120 });
    expect(read1.plato.likely).toBeLessThan(plain.plato.likely - 0.5);
  });
});
