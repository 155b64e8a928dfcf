/** A later brew's strike liquor, heated while its vessel is free and parked until the tun is. */
import { type Draw, NOMINAL } from '@ladlework/brewhouse';
import { waterDensity } from '@ladlework/matter';
import { type BrewDay, vesselOf } from '../day.ts';
import type { TimedMash } from '../plan.ts';
import type { DayBuilder } from './day-builder.ts';
import { heatUpMin, type ParkWish, parkTemperature } from './heat-time.ts';
import { LONGEST_PARK_MIN, pourMinutes, type StandTables } from './liquor-stand.ts';
import { routeTool } from './stations.ts';

/** Strike liquor that was heated early and waits. */
export interface StrikePark {
  readonly wish: ParkWish;
  readonly standsAfterId: string;
  readonly usedId: string;
}

/**
 * Puts a stop between heating and mash-in into a mash that is already in the day.
 * @param build the day, with the mash
 * @param day the plan's document, looked up
 * @param strike strike liquor of the plan
 * @param choice where it waits, and how long it is expected to
 * @param tables heat of liquor that stands
 * @returns nothing when the plan heats no strike liquor
 */
export function parkStrike(
  build: DayBuilder,
  day: BrewDay,
  strike: TimedMash['strike'],
  choice: { readonly parkIn: string; readonly standMin: number },
  tables: StandTables,
): StrikePark | undefined {
  const [heat, preheat, mashIn] = ['heat-liquor', 'preheat', 'mash-in'].map((id) => build.own(id));
  const burner = day.liquorBurner;
  if (!heat || !preheat || !mashIn || !build.find(heat) || !burner) return undefined;
  const from = day.liquorVessel;
  const to = vesselOf(day.kit, choice.parkIn);
  const litres = strike.litres + (day.document.day.preheatTunL ?? 0);
  const wish: ParkWish = {
    from: from.id,
    to: to.id,
    route: day.strikeRoute,
    litres,
    standMin: choice.standMin,
    useMin: 0,
    wantedC: strike.tempC.likely,
  };
  const toC = parkTemperature(day.kit, wish, day.airC)?.heatToC ?? day.boilC - 0.5;
  const fromC = day.document.day.kettleC ?? day.document.day.liquorC;
  const load = {
    vessel: from.id,
    burner: burner.id,
    waterKg: ((litres + from.deadL) * waterDensity(fromC)) / 1000,
    fromC,
  };
  const heatMin = (draw: Draw) => heatUpMin(day.kit, load, toC, day.airC, draw) ?? LONGEST_PARK_MIN;
  build.retime(heat, heatMin(NOMINAL), heatMin);
  const inPark = { vessel: to.id, content: build.own('strike-parked') };
  const parkMin = (draw: Draw) => pourMinutes(day.strikeRoute, litres) * draw.hands;
  const park = build.timed(
    'park-strike',
    `Park the strike liquor in ${to.name}`,
    parkMin(NOMINAL),
    parkMin,
    {
      vessels: [{ vessel: from.id, content: build.own('strike') }, inPark],
      tools: routeTool(day),
      hands: build.hands('busy', 1, day.hands.slice(1)),
    },
  );
  const users = [preheat, mashIn].filter((id) => build.find(id));
  for (const id of users)
    build.change(id, {
      vessels: (build.find(id)?.vessels ?? []).map((u) => (u.vessel === from.id ? inPark : u)),
    });
  // What followed on the liquor vessel now follows the parking, and the other way round.
  build.relag((lag) => {
    const [a, b] = [lag.from.activity, lag.to.activity];
    if (a === heat && users.includes(b)) return undefined;
    const drains = users.includes(a) && build.find(b)?.vessels.every((u) => u.vessel === from.id);
    return drains ? { from: { activity: park, edge: 'end' }, to: lag.to, leastMin: 0 } : lag;
  });
  build.rehold((hold) =>
    hold.vessel === from.id && users.includes(hold.to) ? { ...hold, to: park } : hold,
  );
  build.follow(heat, park, 10, 'hot liquor cools in an open kettle');
  const [usedId = mashIn] = users;
  const table = tables.of(day.kit, wish, day.airC);
  const most = table.longestMin < LONGEST_PARK_MIN ? table.longestMin : undefined;
  build.lag(park, 'end', usedId, 'start', 0, most, 'it would be too cool to mash in');
  build.hold(to.id, inPark.content, park, mashIn);
  build.stands(park, usedId, table.heatWh);
  return { wish, standsAfterId: park, usedId };
}
