/** Hot liquor over the day: when it is heated, where it waits, what that costs. */
import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { THREE_VESSELS, TWO_PULLS } from '../live-testing.ts';
import { planDay } from '../plan-day.ts';
import { cooledC, standTable } from './heat-time.ts';
import { pourMinutes } from './liquor-stand.ts';
import { faultsOf } from './testing.ts';
import { solveDay, type Timetable, timetableOf } from './timetable-of.ts';

type VesselOf = PlanDocument['kit']['vessels'][number];
const HEADER: VesselOf = {
  id: 'header',
  name: 'Header tank',
  role: 'liquor-tank',
  brimL: 500,
  diameterM: 0.8,
  wallKJK: 30,
  lossWK: 8,
  lid: true,
  deadL: 2,
};
const BARE: VesselOf = { ...HEADER, id: 'bare', name: 'Bare tank', lossWK: 45 };
const SECOND: VesselOf = { ...HEADER, id: 'second', name: 'Second tank' };
const TANK: VesselOf = { ...HEADER, id: 'tank', name: 'Tank 1', role: 'fermenter', brimL: 900 };
const withVessels = (doc: PlanDocument, ...more: VesselOf[]): PlanDocument => ({
  ...doc,
  kit: { ...doc.kit, vessels: [...doc.kit.vessels, ...more] },
});
const planOf = (doc: PlanDocument) => planDay(doc, { draws: 50, changes: false });
const NO_DOUBT = { draws: 0 };
const at = (t: Timetable, id: string) => {
  const a = t.activities.find((x) => x.id === id);
  if (!a) throw new Error(`no ${id}`);
  return a;
};

describe('sparge liquor heated in one go with the strike liquor', () => {
  // A second brew's rest of the liquor was once heated from 5 min into a mash-in of 15, while
  // strike liquor was still being drawn from the same tank.
  const doc = withVessels(TWO_PULLS, TANK, HEADER);
  const plan = planOf(doc);
  const choice = { withStrike: true, standMin: 200, parkIn: 'header' };
  const { timetable } = solveDay([doc], [plan], NO_DOUBT, (d) => d, [choice]);
  const route = doc.kit.routes.find((r) => r.id === doc.mash.strikeRoute) ?? doc.kit.routes[0];

  it('is heated on only when the strike liquor is out', () => {
    const mashIn = at(timetable, 'mash-in');
    const drawn = Math.min(
      mashIn.endMin - mashIn.startMin,
      route ? pourMinutes(route, plan.strike.litres) : 0,
    );
    expect(drawn).toBeGreaterThan(5);
    expect(at(timetable, 'heat-sparge').startMin).toBeGreaterThanOrEqual(mashIn.startMin + drawn);
  });

  it('is heated on from what it has cooled to', () => {
    const kg = 250;
    const hot = { vessel: 'header', waterKg: kg, fromC: 70 };
    expect(cooledC(doc.kit, hot, 0, 18)).toBeCloseTo(70, 6);
    const after = cooledC(doc.kit, hot, 180, 18);
    // Newton's law through the wall alone: 8 W/K on 250 kg and 30 kJ/K.
    const kJK = kg * 4.19 + 30;
    const byWall = 18 + 52 * Math.exp((-8 * 180 * 60) / (1000 * kJK));
    expect(after).toBeLessThan(byWall + 0.5);
    expect(after).toBeGreaterThan(byWall - 4);
  });
});

describe('heat for liquor that stands', () => {
  it('grows with the time, and is what the liquor holds above the wanted temperature', () => {
    const doc = withVessels(TWO_PULLS, HEADER);
    const wish = {
      from: 'kettle',
      to: 'header',
      route: doc.kit.routes[0] as PlanDocument['kit']['routes'][number],
      litres: 200,
      standMin: 0,
      useMin: 40,
      wantedC: 76,
    };
    const { heatWh, longestMin } = standTable(doc.kit, wish, 18, 720);
    expect(heatWh).toHaveLength(longestMin + 1);
    for (let k = 1; k < heatWh.length; k++)
      expect(heatWh[k]).toBeGreaterThanOrEqual(heatWh[k - 1] as number);
    // From 76 °C to the boil, 200 L at 0.97 kg/L and 4.2 kJ/(kg K): no more can be put in.
    expect(heatWh.at(-1)).toBeLessThan((200 * 0.975 * 4.23 * 24.5 * 1000) / 3600);
    expect(heatWh.at(-1)).toBeGreaterThan((200 * 0.97 * 4.19 * 20 * 1000) / 3600);
  });

  it('is the third aim of the day, proven, and makes a tank of its own heat late', () => {
    const t = timetableOf(THREE_VESSELS, planOf(THREE_VESSELS), NO_DOUBT);
    expect(t.proven).toBe('optimal');
    expect(t.levels.at(-1)).toMatchObject({ unit: 'Wh', proven: true });
    expect(at(t, 'sparge').startMin - at(t, 'heat-sparge').endMin).toBeLessThan(5);
    expect(t.parks[0]).toMatchObject({ moved: false, what: 'sparge', withinWindow: true });
  });
});

describe('where liquor waits', () => {
  it('is the vessel that loses less, of two that do nothing else', () => {
    const doc = withVessels(TWO_PULLS, BARE, HEADER);
    const t = timetableOf(doc, planOf(doc), NO_DOUBT);
    expect(t.parks.find((p) => p.what === 'sparge')?.vessel).toBe('header');
  });

  it('is the vessel the brewer names, when one is named', () => {
    const doc = withVessels(TWO_PULLS, BARE, HEADER);
    const named = { ...doc, day: { ...doc.day, work: { parkIn: 'bare' } } };
    const t = timetableOf(named, planOf(named), NO_DOUBT);
    expect(t.parks.find((p) => p.what === 'sparge')?.vessel).toBe('bare');
  });

  it('is no worse than any single place it could be told to use', () => {
    const doc = withVessels(TWO_PULLS, TANK, HEADER);
    const plan = planOf(doc);
    const free = timetableOf(doc, plan, NO_DOUBT);
    for (const parkIn of ['tank', 'header']) {
      const told = timetableOf(doc, plan, { ...NO_DOUBT, work: { parkIn } });
      expect(free.finishMin).toBeLessThanOrEqual(told.finishMin);
    }
  });
});

describe('strike liquor of a second brew', () => {
  // No pull needs the kettle, so the second mash can begin while the first wort boils in it.
  const infusion: PlanDocument = {
    ...withVessels(TWO_PULLS, TANK, HEADER, SECOND),
    mash: {
      ...TWO_PULLS.mash,
      rests: [{ tempC: 66, minutes: 60 }],
      raises: [],
    },
  };
  const plan = planOf(infusion);
  const apart = { withStrike: false, standMin: 60, parkIn: 'header' };
  const day = (strike?: { parkIn: string; standMin: number }) =>
    solveDay([infusion, infusion], [plan, plan], NO_DOUBT, (d) => d, [
      apart,
      strike ? { ...apart, strike } : apart,
    ]);

  it('waits hot in a tank, so that the second mash need not wait for the kettle', () => {
    const { timetable, day: built, solved } = day({ parkIn: 'second', standMin: 60 });
    expect(timetable.proven).toBe('optimal');
    expect(faultsOf(built.problem, solved.placed)).toEqual([]);
    const [parked, mashIn] = [at(timetable, '2.park-strike'), at(timetable, '2.mash-in')];
    expect(mashIn.startMin).toBeGreaterThanOrEqual(parked.endMin);
    expect(mashIn.vessels).toContain('second');
    expect(mashIn.vessels).not.toContain('kettle');
    expect(timetable.finishMin).toBeLessThan(day().timetable.finishMin);
    const park = timetable.parks.find((p) => p.what === 'strike');
    expect(park?.firstC).toBeCloseTo(plan.strike.tempC.likely, 0);
    expect(park?.heatToC).toBeGreaterThan(plan.strike.tempC.likely);
  });

  it('does not wait longer than a bare tank keeps it warm enough', () => {
    // The tun is free three hours after the kettle is wanted for the first wort.
    const bare = withVessels(infusion, BARE);
    const { timetable } = solveDay([bare, bare], [plan, plan], NO_DOUBT, (d) => d, [
      apart,
      { ...apart, strike: { parkIn: 'bare', standMin: 60 } },
    ]);
    expect(at(timetable, '2.park-strike').startMin).toBeGreaterThan(
      at(timetable, '1.knock-out').endMin,
    );
  });

  it('is parked without being told', () => {
    const t = timetableOf([infusion, infusion], [plan, plan], NO_DOUBT);
    expect(t.finishMin).toBeLessThanOrEqual(day().timetable.finishMin);
    expect(t.parks.map((p) => `${p.brew} ${p.what}`)).toContain('2 strike');
  });
});

describe('the quick form', () => {
  it('gives the same finish without doubt, hands or heat', () => {
    const doc = withVessels(TWO_PULLS, TANK, HEADER);
    const plan = planOf(doc);
    const quick = timetableOf(doc, plan, { quick: true });
    const whole = timetableOf(doc, plan, NO_DOUBT);
    expect(quick.robust).toBeUndefined();
    expect(quick.levels).toHaveLength(1);
    expect(Math.abs(quick.finishMin - whole.finishMin)).toBeLessThanOrEqual(10);
  });
});
