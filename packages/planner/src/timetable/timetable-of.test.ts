/** Whole days on the invented two- and three-vessel kits. */
import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { THREE_VESSELS, TWO_PULLS } from '../live-testing.ts';
import type { PlannedMove } from '../plan.ts';
import { planDay } from '../plan-day.ts';
import { dayStrip, handList } from './lists.ts';
import { replan } from './replan.ts';
import { faultsOf } from './testing.ts';
import { clockOf, solveDay, type Timetable, timetableOf } from './timetable-of.ts';

type VesselOf = PlanDocument['kit']['vessels'][number];
const TANK: VesselOf = {
  id: 'tank',
  name: 'Tank 1',
  role: 'fermenter',
  brimL: 900,
  diameterM: 0.8,
  wallKJK: 30,
  lossWK: 8,
  lid: true,
  deadL: 2,
};
const HEADER: VesselOf = {
  ...TANK,
  id: 'header',
  name: 'Header tank',
  role: 'liquor-tank',
  brimL: 300,
};
const withVessels = (doc: PlanDocument, ...more: VesselOf[]): PlanDocument => ({
  ...doc,
  kit: { ...doc.kit, vessels: [...doc.kit.vessels, ...more] },
});
const ONE = withVessels(TWO_PULLS, TANK);
const planOf = (doc: PlanDocument) => planDay(doc, { draws: 50, changes: false });
const plan = planOf(ONE);
const at = (t: Timetable, id: string) => {
  const a = t.activities.find((x) => x.id === id);
  if (!a) throw new Error(`no ${id}`);
  return a;
};
const NO_DOUBT = { draws: 0 };

describe('one brew, kettle for everything', () => {
  const { timetable, day, solved } = solveDay([ONE], [plan], { ...NO_DOUBT });

  it('is proven optimal and breaks nothing', () => {
    expect(timetable.proven).toBe('optimal');
    expect(faultsOf(day.problem, solved.placed)).toEqual([]);
  });

  it('holds every move of the plan that moves anything', () => {
    const ids = new Set(timetable.activities.map((a) => a.moveId));
    for (const id of ['mash-in', 'pull-1', 'return-1', 'pull-2', 'return-2'])
      expect(ids).toContain(id);
  });

  it('parks sparge liquor in the tank that will take the wort, so that it is 74-78 °C when wanted', () => {
    const [park] = timetable.parks;
    expect(park?.vessel).toBe('tank');
    expect(park?.standMin).toBe(at(timetable, 'sparge').startMin - at(timetable, 'park').endMin);
    expect(park?.firstC).toBeLessThanOrEqual(78);
    expect(park?.lastC).toBeGreaterThanOrEqual(74);
    expect(park?.heatToC).toBeGreaterThan(park?.parkedC as number);
    expect(park?.parkedC).toBeGreaterThan(park?.firstC as number);
    expect(at(timetable, 'sanitise').startMin).toBeGreaterThanOrEqual(
      at(timetable, 'sparge').endMin,
    );
  });

  it('gives the helper a list and a time to leave', () => {
    const list = handList(timetable, 'H', (id) => id);
    const free = timetable.hands.find((h) => h.id === 'H')?.lastMin as number;
    expect(list.split('\n').at(-1)).toBe(`Free from ${clockOf(360 + free)}.`);
    expect(list).toContain('Pull 1 (with Brewer; tun, kettle)');
  });

  it('draws a strip whose hands never lie over each other', () => {
    const strip = dayStrip(timetable, day.problem.names);
    expect(strip.fromMin).toBe(360);
    expect(strip.rows.map((r) => r.name)).toContain('Mash tun');
    for (const row of strip.rows.filter((r) => r.of === 'hand')) {
      const busy = row.bars.filter((b) => b.weight === 'busy');
      busy.slice(1).forEach((b, k) => {
        expect(b.startMin).toBeGreaterThanOrEqual(busy[k]?.endMin as number);
      });
    }
  });
});

describe('helper until noon, delivery at 11', () => {
  const kit = {
    ...ONE.kit,
    hands: [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper', untilMin: 360 },
    ],
  };
  const events = [{ name: 'Malt delivery', atMin: 300, minutes: 20, hands: 1 }];
  const { timetable, day, solved } = solveDay([{ ...ONE, kit }], [plan], { ...NO_DOUBT, events });

  it('is proven, with the helper gone in time and the delivery on its minute', () => {
    expect(timetable.proven).toBe('optimal');
    expect(faultsOf(day.problem, solved.placed)).toEqual([]);
    expect(timetable.hands.find((h) => h.id === 'H')?.lastMin).toBeLessThanOrEqual(360);
    expect(at(timetable, 'event-1').startMin).toBe(300);
  });

  it('takes no less time than the day without them', () => {
    expect(timetable.finishMin).toBeGreaterThanOrEqual(timetableOf(ONE, plan, NO_DOUBT).finishMin);
  });
});

describe('what the document itself asks of the day', () => {
  const asking: PlanDocument = {
    ...ONE,
    day: {
      ...ONE.day,
      work: { boilMin: 90, lauterRestMin: 20 },
      events: [{ name: 'Malt delivery', atMin: 300, minutes: 20, hands: 1 }],
      breaks: [{ hand: 'B', minutes: 30, fromMin: 200, untilMin: 420 }],
      wishFinishMin: 640,
    },
  };
  const t = timetableOf(asking, plan, { draws: 50 });
  const lasts = (id: string) => at(t, id).endMin - at(t, id).startMin;

  it('is in the timetable', () => {
    expect(t.proven).toBe('optimal');
    expect(lasts('boil-wort')).toBe(90);
    expect(lasts('lauter-rest')).toBe(20);
    expect(at(t, 'event-1').startMin).toBe(300);
    expect(at(t, 'break-1').startMin).toBeGreaterThanOrEqual(200);
    expect(at(t, 'break-1').endMin).toBeLessThanOrEqual(420);
    expect(t.robust?.chance).toBeTypeOf('number');
  });

  it('gives way to what the caller asks', () => {
    const { finishMin } = timetableOf(asking, plan, NO_DOUBT);
    expect(timetableOf(asking, plan, { ...NO_DOUBT, work: {} }).finishMin).toBeLessThan(finishMin);
    const limited = { ...asking, day: { ...asking.day, finishByMin: finishMin - 1 } };
    expect(timetableOf(limited, plan, NO_DOUBT).proven).toBe('infeasible');
    const late = { ...NO_DOUBT, mustFinishByMin: finishMin };
    expect(timetableOf(limited, plan, late).proven).toBe('optimal');
  });
});

describe('two brews', () => {
  const doc = withVessels(TWO_PULLS, TANK, HEADER);
  const plans = [planOf(doc), planOf(doc)];

  it('in a row into one tank: proven, the second begun after the first', () => {
    const { timetable, day, solved } = solveDay([doc, doc], plans, NO_DOUBT);
    expect(timetable.proven).toBe('optimal');
    expect(faultsOf(day.problem, solved.placed)).toEqual([]);
    const [first, second] = [at(timetable, '1.knock-out'), at(timetable, '2.knock-out')];
    expect(first.vessels).toContain('tank');
    expect(second.vessels).toContain('tank');
    expect(second.startMin).toBeGreaterThanOrEqual(first.endMin);
    // The second brew's liquor cannot stand in the tank that holds the first beer.
    expect(timetable.parks.find((p) => p.brew === 2)?.vessel).toBe('header');
  });

  it('end sooner with a liquor tank and a burner of their own than over one kettle', () => {
    const three = withVessels(THREE_VESSELS, TANK);
    const over = timetableOf([doc, doc], plans, NO_DOUBT);
    const apart = timetableOf([three, three], [planOf(three), planOf(three)], NO_DOUBT);
    expect(apart.proven).toBe('optimal');
    expect(apart.finishMin).toBeLessThan(over.finishMin);
  });
});

describe('a house without a kettle', () => {
  it('boils the wort in its pots, each on its own burner', () => {
    const pot = (id: string): VesselOf => ({
      ...TANK,
      id,
      name: `Pot ${id}`,
      role: 'pot',
      brimL: 250,
    });
    const kit: PlanDocument['kit'] = {
      ...TWO_PULLS.kit,
      vessels: [
        ...TWO_PULLS.kit.vessels.filter((v) => v.id !== 'kettle'),
        pot('p1'),
        pot('p2'),
        TANK,
      ],
      burners: ['p1', 'p2'].map((id) => ({
        id: `flame-${id}`,
        name: `Flame ${id}`,
        kind: 'gas-burner',
        heats: [id],
        ratedKW: 30,
      })),
    };
    const raises = TWO_PULLS.mash.raises.map((r) =>
      r.by === 'decoction' ? { ...r, pots: ['p2'] } : r,
    );
    const doc: PlanDocument = {
      ...TWO_PULLS,
      kit,
      beer: { ...TWO_PULLS.beer, malts: [{ name: 'Pale malt', kg: 50, type: 'base' }] },
      mash: { ...TWO_PULLS.mash, liquorVessel: 'p1', raises },
    };
    const { timetable, day, solved } = solveDay([doc], [planOf(doc)], NO_DOUBT);
    expect(timetable.proven).toBe('optimal');
    expect(faultsOf(day.problem, solved.placed)).toEqual([]);
    const boils = timetable.activities.filter((a) => a.id.startsWith('boil-wort'));
    expect(boils.map((b) => b.vessels[0])).toEqual(expect.arrayContaining(['p1', 'p2']));
  });
});

describe('a day that cannot be', () => {
  it('names the limit, and is free once it is lifted', () => {
    const best = timetableOf(ONE, plan, NO_DOUBT).finishMin;
    const t = timetableOf(ONE, plan, { ...NO_DOUBT, mustFinishByMin: best - 1 });
    expect(t.proven).toBe('infeasible');
    expect(t.clashes[0]).toMatchObject({ code: 'finish-by', freesAlone: true });
    expect(t.clashes[0]?.text).toContain(`It cannot end before ${clockOf(360 + best)}.`);
    expect(timetableOf(ONE, plan, { ...NO_DOUBT, mustFinishByMin: best }).finishMin).toBe(best);
  });

  it('is freed by lifting any clash that says it frees the day, and by no other', () => {
    // A delivery that needs both in the middle of everything, and a helper who goes at ten.
    const hands = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper', untilMin: 240 },
    ];
    const event = { name: 'Malt delivery', atMin: 300, minutes: 20, hands: 2 };
    const ask = (untilMin: number | undefined, hands2: number) => {
      const people = hands.map(({ untilMin: _u, ...h }) =>
        h.id === 'H' && untilMin !== undefined ? { ...h, untilMin } : h,
      );
      const kit = { ...ONE.kit, hands: people };
      const events = [{ ...event, hands: hands2 }];
      return timetableOf({ ...ONE, kit }, plan, { ...NO_DOUBT, events });
    };
    const t = ask(240, 2);
    expect(t.proven).toBe('infeasible');
    const frees = new Map(t.clashes.map((c) => [c.code, c.freesAlone]));
    expect([...frees.keys()]).toEqual(expect.arrayContaining(['window', 'event']));
    expect(ask(undefined, 2).proven).toBe(frees.get('window') ? 'optimal' : 'infeasible');
  });

  it('names the helper when a carry takes two and the helper is gone', () => {
    const hands = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper', untilMin: 60 },
    ];
    const t = timetableOf({ ...ONE, kit: { ...ONE.kit, hands } }, plan, NO_DOUBT);
    expect(t.proven).toBe('infeasible');
    expect(t.clashes.find((c) => c.code === 'window')).toMatchObject({
      text: 'Helper leaves at 07:00.',
      freesAlone: true,
    });
    // And so it is: with the helper there, the same day fits.
    const stays = hands.map(({ id, name }) => ({ id, name }));
    const freed = timetableOf({ ...ONE, kit: { ...ONE.kit, hands: stays } }, plan, NO_DOUBT);
    expect(freed.proven).toBe('optimal');
  });
});

describe('doubt', () => {
  it('brackets the finish, grows the chance with the hour, and names what to watch', () => {
    const t = timetableOf(ONE, plan, { draws: 120, wishFinishMin: 540 });
    const r = t.robust;
    expect(r?.finishMin.low).toBeLessThan(r?.finishMin.high as number);
    expect(r?.finishMin.low).toBeLessThan(t.finishMin + 60);
    expect(r?.finishMin.high).toBeGreaterThan(t.finishMin);
    const later = timetableOf(ONE, plan, { draws: 120, wishFinishMin: 620 }).robust
      ?.chance as number;
    expect(later).toBeGreaterThan(r?.chance as number);
    // Nothing on the day is as uncertain and as unavoidable as the run-off.
    expect(r?.watch[0]?.id).toBe('run-off');
    expect(r?.critical.get('run-off')).toBeGreaterThan(0.9);
  });
});

describe('under way', () => {
  const before = timetableOf(ONE, plan, NO_DOUBT);
  const upTo = (minute: number) =>
    before.activities
      .filter((a) => a.startMin < minute)
      .map((a) => ({
        id: a.id,
        startMin: a.startMin,
        ...(a.endMin <= minute ? { endMin: a.endMin } : {}),
      }));

  it('moves nothing when the day goes as planned', () => {
    const now = at(before, 'boil-1').startMin + 1;
    const r = replan(ONE, plan, NO_DOUBT, before, upTo(now), now);
    expect(r.timetable.proven).toBe('optimal');
    expect(r.moved).toEqual([]);
    expect(r.timetable.finishMin).toBe(before.finishMin);
  });

  it('keeps what is done and under way, and says why the rest moved', () => {
    const due = at(before, 'boil-up-1');
    const now = due.endMin + 12;
    const progress = upTo(due.endMin).map((p) =>
      p.id === 'boil-up-1' ? { id: p.id, startMin: p.startMin } : p,
    );
    const r = replan(ONE, plan, NO_DOUBT, before, progress, now);
    expect(r.timetable.proven).toBe('optimal');
    for (const p of progress) {
      const a = at(r.timetable, p.id);
      expect(a.startMin, p.id).toBe(p.startMin);
      if ('endMin' in p && p.endMin !== undefined) expect(a.endMin, p.id).toBe(p.endMin);
    }
    expect(at(r.timetable, 'boil-up-1').endMin).toBe(now);
    expect(r.timetable.finishMin).toBe(before.finishMin + 12);
    const boil = r.moved.find((m) => m.id === 'boil-1');
    expect(boil).toMatchObject({ fromMin: due.endMin, toMin: now });
    expect(boil?.why).toBe(`waits for "Bring pull 1 to the boil", now until ${clockOf(360 + now)}`);
    const started = new Set(progress.map((p) => p.id));
    for (const a of r.timetable.activities)
      if (!started.has(a.id)) expect(a.startMin, a.id).toBeGreaterThanOrEqual(now);
  });

  it('ends the mash at the minute the running day forecasts', () => {
    const due = at(before, 'boil-up-1');
    const now = due.startMin + 2;
    const begun = plan.moves.find(({ move }) => move.id === due.id) as PlannedMove;
    // The burner is weak: the heat under way lasts 7.4 min longer, and all after it is later by that.
    const shift = due.startMin - begun.startMin.likely;
    const ahead = plan.moves
      .filter(({ endMin }) => endMin.likely >= begun.endMin.likely)
      .map(({ move, startMin, endMin }) => ({
        id: move.id,
        startMin: move.id === due.id ? now : startMin.likely + shift + 7.4,
        endMin: endMin.likely + shift + 7.4,
      }));
    const r = replan(ONE, plan, NO_DOUBT, before, upTo(now), now, ahead);
    expect(r.timetable.proven).toBe('optimal');
    for (const { id, endMin } of ahead)
      expect(Math.abs(at(r.timetable, id).endMin - endMin), id).toBeLessThanOrEqual(1);
  });

  it('lets go of a wait that is already too long, and says so', () => {
    const pull = at(before, 'pull-1');
    const now = pull.endMin + 25;
    const r = replan(ONE, plan, NO_DOUBT, before, upTo(pull.endMin), now);
    expect(r.timetable.proven).toBe('optimal');
    expect(at(r.timetable, 'heat-1').startMin).toBe(now);
  });

  it('takes what must come first as done, and what nobody writes down as over', () => {
    // Nothing was tapped but the pull: mash-in, its reading and the rest lie behind it.
    const pull = at(before, 'pull-1');
    const now = pull.startMin + 2;
    const r = replan(ONE, plan, NO_DOUBT, before, [{ id: 'pull-1', startMin: pull.startMin }], now);
    for (const id of ['mash-in', 'rest-1', 'read-mash-in'])
      expect(at(r.timetable, id).endMin, id).toBeLessThanOrEqual(pull.startMin);
    expect(r.timetable.finishMin).toBe(before.finishMin);
  });

  it('takes hops as in that nobody tapped when their boil is over', () => {
    const boil = at(before, 'boil-wort');
    const now = boil.endMin + 5;
    const untapped = upTo(now).filter((p) => !p.id.startsWith('hops-'));
    const r = replan(ONE, plan, NO_DOUBT, before, untapped, now);
    expect(r.timetable.proven).toBe('optimal');
    const hops = r.timetable.activities.filter((a) => a.id.startsWith('hops-'));
    expect(hops.length).toBeGreaterThan(0);
    for (const hop of hops) expect(hop.endMin, hop.id).toBeLessThanOrEqual(boil.endMin);
    expect(r.timetable.finishMin).toBe(before.finishMin);
  });

  it('lets go of the hour it was to end by when that is past keeping, and says so', () => {
    const limit = { ...NO_DOUBT, mustFinishByMin: before.finishMin };
    const due = at(before, 'boil-up-1');
    const progress = upTo(due.endMin).map((p) =>
      p.id === 'boil-up-1' ? { id: p.id, startMin: p.startMin } : p,
    );
    const r = replan(ONE, plan, limit, before, progress, due.endMin + 12);
    expect(r.timetable.finishMin).toBe(before.finishMin + 12);
    expect(r.letGo.map((c) => c.code)).toEqual(['finish-by']);
  });
});
