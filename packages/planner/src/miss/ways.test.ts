import { massOf } from '@ladlework/brewhouse';
import { describe, expect, test } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { applyEntry } from '../live-apply.ts';
import { forecastDay } from '../live-forecast.ts';
import { openDay } from '../live-session.ts';
import { applyAll, hiddenDay, movesFor, THREE_VESSELS, TWO_PULLS, upTo } from '../live-testing.ts';
import type { Miss, MissCode } from './miss-types.ts';
import { playWay } from './play-way.ts';
import type { WayOut } from './way-types.ts';
import { inOrder, missBench, waysFor, waysOut } from './ways.ts';

/** A day after one tap on the likely kit, and a miss told then. */
function day(document: PlanDocument, kind: 'begun' | 'done', moveId: string, draws = 60) {
  const moves = movesFor(document);
  const truth = openDay(document, moves, { mash: 'off', draws: 1 }).particles[0];
  if (!truth) throw new Error('no particle');
  const taps = upTo(hiddenDay(document, moves, truth.draw).taps, kind, moveId);
  return applyAll(openDay(document, moves, { draws, seed: 3 }), taps);
}

const told = (session: ReturnType<typeof day>, miss: Miss) =>
  applyEntry(session, { kind: 'miss', id: 'm1', atMin: session.lastMin, ...miss });

const of = (outs: readonly WayOut[], code: string) => outs.find((w) => w.code === code);

const CASES: [MissCode, 'begun' | 'done', string, Omit<Miss, 'code'>][] = [
  ['landed-low', 'done', 'return-1', { vessel: 'tun' }],
  ['landed-high', 'done', 'return-1', { vessel: 'tun' }],
  ['tun-slipped', 'begun', 'boil-1', { vessel: 'tun' }],
  ['pot-late', 'begun', 'boil-up-1', { vessel: 'kettle', minutes: 25 }],
  ['spilled', 'begun', 'boil-1', { vessel: 'kettle', litres: 20 }],
  ['stuck', 'done', 'return-1', { vessel: 'kettle', litres: 12 }],
  ['scorched', 'begun', 'boil-up-1', { vessel: 'kettle' }],
  ['boiled-over', 'begun', 'boil-1', { vessel: 'kettle', litres: 15 }],
  ['iodine-blue', 'done', 'return-2', { vessel: 'tun' }],
  ['pump-dead', 'begun', 'boil-1', { thing: 'bucket' }],
  ['burner-out', 'begun', 'boil-up-1', { vessel: 'kettle', thing: 'jet' }],
  ['helper-gone', 'begun', 'boil-1', { thing: 'H' }],
];

const KITS: [string, PlanDocument][] = [
  ['two vessels', TWO_PULLS],
  ['three vessels', THREE_VESSELS],
];

describe.each(KITS)('on %s', (_, document) => {
  test.each(CASES)('%s has a way on, and says why another cannot be', (code, kind, at, more) => {
    const session = told(day(document, kind, at), { code, ...more });
    const bench = missBench(session, session.lastMin, { code, ...more });
    const { safe } = waysFor(bench);
    expect(safe.text).toMatch(/not reckoned/);
    const outs = waysOut(bench);
    expect(outs.some((w) => w.possible)).toBe(true);
    for (const w of outs) {
      expect(w.text.length).toBeGreaterThan(5);
      if (!w.possible) {
        expect(w.whyNot).toMatch(/\w{3}/);
        continue;
      }
      const p = w.played;
      expect([w.code, Number.isFinite(p?.mashEndMin.likely)]).toEqual([w.code, true]);
      expect(p?.mashEndMin.likely).toBeGreaterThanOrEqual(session.lastMin);
      for (const l of p?.landings ?? [])
        expect([w.code, l.tempC.likely > 40]).toEqual([w.code, true]);
      expect(p?.alphaLeft?.likely).toBeGreaterThanOrEqual(0);
      // Nothing that is out is asked for.
      const gone = code.endsWith('dead') || code.endsWith('out') || code.endsWith('gone');
      if (gone && w.code !== 'wait')
        for (const m of p?.ahead ?? [])
          expect([w.code, JSON.stringify(m.move).includes(`"${more.thing}"`)]).toEqual([
            w.code,
            false,
          ]);
      // Every id is there once: the log and the page go by it.
      const ids = p?.moves.map((m) => m.id) ?? [];
      expect(new Set(ids).size).toBe(ids.length);
    }
  });
});

describe('a way that is taken', () => {
  test.each([
    ['landed-low', 'done', 'return-1', 'boiling-liquor'],
    ['pot-late', 'begun', 'boil-up-1', 'return-now'],
    ['burner-out', 'begun', 'boil-up-1', 'return-now'],
    ['burner-out', 'begun', 'boil-up-1', 'wait'],
    ['burner-out', 'begun', 'boil-up-1', 'heat-on'],
    ['helper-gone', 'begun', 'boil-1', 'go-on'],
  ] as const)('%s after %s %s: %s comes out as it was told', (code, kind, at, way) => {
    const miss: Miss = {
      code,
      vessel: code === 'landed-low' ? 'tun' : 'kettle',
      ...(code === 'burner-out' && { thing: 'jet' }),
      ...(code === 'helper-gone' && { thing: 'H' }),
      ...(code === 'pot-late' && { minutes: 20 }),
    };
    const before = day(THREE_VESSELS, kind, at);
    const session = told(before, miss);
    const cooler =
      code === 'landed-low' ? { ...session, document: warmer(session.document, 3) } : session;
    const out = playWay(missBench(cooler, session.lastMin, miss), way);
    expect([way, out.possible, out.whyNot]).toEqual([way, true, undefined]);
    const { moves, document, mashEndMin, landings, ends } = out.played as NonNullable<
      WayOut['played']
    >;
    // The page goes on from the log: the same entries over the changed moves.
    const taps = upTo(entriesUpTo(kind, at), kind, at);
    const entries = [
      { kind: 'miss' as const, id: 'm1', atMin: before.lastMin, ...miss },
      ...ends.map((moveId) => ({ kind: 'done' as const, moveId, atMin: before.lastMin })),
    ];
    const again = applyAll(openDay(document, moves, { draws: 60, seed: 3 }), [...taps, ...entries]);
    const ahead = forecastDay(again, again.lastMin);
    expect(Math.abs(ahead.mashEndMin.likely - mashEndMin.likely)).toBeLessThan(6);
    const last = landings.at(-1);
    const told1 = ahead.moves.find((m) => m.moveId === last?.moveId)?.toC.likely;
    expect(Math.abs((told1 as number) - (last?.tempC.likely as number))).toBeLessThan(1);
  });

  const entriesUpTo = (kind: 'begun' | 'done', at: string) => {
    const moves = movesFor(THREE_VESSELS);
    const truth = openDay(THREE_VESSELS, moves, { mash: 'off', draws: 1 }).particles[0];
    if (!truth) throw new Error('no particle');
    return upTo(hiddenDay(THREE_VESSELS, moves, truth.draw).taps, kind, at);
  };
});

/** The same document with every later rest some kelvin higher: the mash then stands too low. */
function warmer(document: PlanDocument, byK: number): PlanDocument {
  const rests = document.mash.rests.map((r, i) => (i === 1 ? { ...r, tempC: r.tempC + byK } : r));
  return { ...document, mash: { ...document.mash, rests } };
}

describe('facts of the trade', () => {
  test('the mash under its rest by 3 K is where the stop rule is: a cold tun is past it', () => {
    // field.md 8, stop rules: tun < rest - 3 K: decide before pulling more.
    const session = day(TWO_PULLS, 'done', 'pull-1');
    const cold = { ...session, document: warmer(session.document, 0) };
    const hot = { ...cold.document, mash: { ...cold.document.mash } };
    const rests = hot.mash.rests.map((r, i) => (i === 0 ? { ...r, tempC: r.tempC + 15 } : r));
    const past = { ...cold, document: { ...hot, mash: { ...hot.mash, rests } } };
    const safe = waysFor(missBench(past, session.lastMin, { code: 'tun-slipped' })).safe;
    expect(safe).toMatchObject({ minutes: 0, limit: 'rest' });
    const now = waysFor(missBench(cold, session.lastMin, { code: 'tun-slipped' })).safe;
    expect(now.minutes ?? 120).toBeGreaterThan(0);
  });

  test('a litre of boiling liquor does what the mixing rule says', () => {
    // field.md 3, mash-in low: boiling liquor L = M dT / (100 - T), M in litres of water.
    const session = day(THREE_VESSELS, 'done', 'return-1');
    const low = { ...session, document: warmer(session.document, 3) };
    const out = playWay(
      missBench(low, session.lastMin, { code: 'landed-low', vessel: 'tun' }),
      'boiling-liquor',
    );
    const poured = out.played?.ahead.find((m) => m.move.kind === 'pour')?.move;
    const litres = poured?.kind === 'pour' ? poured.litres : 0;
    const landing = out.played?.landings[0];
    const pouredAtC = out.played?.ahead.find((m) => m.move.kind === 'pour')?.fromC.likely;
    const tun = session.particles[0]?.situation.vessels.find((v) => v.vessel === 'tun');
    if (!tun || !landing || pouredAtC === undefined) throw new Error('no tun');
    const waterLikeL = tun.waterKg + 0.41 * (massOf(tun) - tun.waterKg);
    const rise = landing.targetC - pouredAtC;
    const rule = (waterLikeL * rise) / (99.6 - landing.targetC);
    // By bucket it arrives at 85 to 90 °C, not at 100 (field.md 0.1, Metzger 1996).
    const arrived = (waterLikeL * rise) / (85 - landing.targetC);
    expect(litres).toBeGreaterThan(rule);
    expect(litres).toBeLessThan(1.05 * arrived);
  });

  test('a beer that states no volume cannot be brewed smaller than it states', () => {
    const session = told(day(TWO_PULLS, 'begun', 'boil-1'), {
      code: 'spilled',
      vessel: 'kettle',
      litres: 20,
    });
    const outs = waysOut(missBench(session, session.lastMin, { code: 'spilled', litres: 20 }));
    expect(of(outs, 'smaller-brew')?.whyNot).toMatch(/states no volume/);
    expect(of(outs, 'go-on')?.possible).toBe(true);
  });

  test('ways stand in order: possible before impossible', () => {
    const session = told(day(TWO_PULLS, 'begun', 'boil-1'), { code: 'helper-gone', thing: 'H' });
    const outs = inOrder(
      waysOut(missBench(session, session.lastMin, { code: 'helper-gone', thing: 'H' })),
    );
    const possible = outs.map((w) => w.possible);
    expect(
      possible.indexOf(false) === -1 || possible.lastIndexOf(true) < possible.indexOf(false),
    ).toBe(true);
    // Alone it is half loads: more minutes of carrying than two have.
    expect(of(outs, 'go-on')?.text).toMatch(/alone/);
  });
});
