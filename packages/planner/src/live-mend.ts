/** The moves of each repair, so that what is offered and what was done are the same thing. */
import type { Burner, Move, Vessel } from '@ladlework/brewhouse';
import { type BrewDay, burnerFor, routeHands, SLOW_K_PER_MIN, stirrer } from './day.ts';
import type { Repair } from './live.ts';
import type { DaySession } from './live-session.ts';

/** Stirring and letting a plume settle before the second reading. @source field.md 1.16, 5-10 min */
const SETTLE_MIN = 5;
/** A small pull is scooped as it stands after a stir; it boils just long enough to be sure of it. */
const SMALL_PULL_BOIL_MIN = 2;
/** Cold liquor from a hose or a bucket, stirred in [L/min]. Our judgement. */
const COLD_L_PER_MIN = 10;

/** What a repair is made of. */
export interface RepairOrder {
  readonly code: Repair['code'];
  readonly amountL?: number;
  readonly minutes?: number;
  readonly targetC?: number;
}

/** Vessels and burners a repair uses; undefined where the kit or the moment has none. */
export interface RepairMeans {
  /** Vessel that still holds some of the pull. */
  readonly reserve: Vessel | undefined;
  /** Empty vessel on a burner that can boil a pull. */
  readonly pot: { readonly vessel: Vessel; readonly burner: Burner } | undefined;
  /** Vessel that holds, or can heat, clear liquor. */
  readonly liquor: { readonly vessel: Vessel; readonly burner: Burner | undefined } | undefined;
  /** Litres of clear liquor already in it. */
  readonly liquorL: number;
  /** Burner under or around the mash. */
  readonly tunBurner: Burner | undefined;
}

/** What stands free for a repair, from the first particle's contents: particles agree on that. */
export function meansOf(session: DaySession): RepairMeans {
  const { kit, restTun, liquorVessel } = session.day;
  const states = session.particles[0]?.situation.vessels ?? [];
  const content = (v: Vessel) => states.find((s) => s.vessel === v.id);
  const grist = (v: Vessel) => {
    const s = content(v);
    return s ? s.solidsKg + s.extractKg : 0;
  };
  const water = (v: Vessel) => content(v)?.waterKg ?? 0;
  // Dead volume of an emptied pot still holds a little mash; that is not a reserve.
  const held = (v: Vessel) => grist(v) + water(v) > v.deadL * 1.2 + 0.5;
  const others = kit.vessels.filter((v) => v.id !== restTun.id && v.role !== 'fermenter');
  const heated = others.filter((v) => burnerFor(kit, v.id));
  const pot = heated.find((v) => v.role !== 'liquor-tank' && !held(v));
  const clear = (v: Vessel) => grist(v) < 0.01 * (water(v) + 1) || !held(v);
  const hot = others.find((v) => held(v) && grist(v) < 0.01);
  const liquor =
    hot ??
    [liquorVessel, ...heated].find((v) => v.id !== restTun.id && clear(v) && burnerFor(kit, v.id));
  return {
    reserve: others.find((v) => held(v) && grist(v) >= 0.01),
    pot: pot ? { vessel: pot, burner: burnerFor(kit, pot.id) as Burner } : undefined,
    liquor: liquor ? { vessel: liquor, burner: burnerFor(kit, liquor.id) } : undefined,
    liquorL: hot ? Math.max(0, water(hot) - hot.deadL) : 0,
    tunBurner: burnerFor(kit, restTun.id),
  };
}

/**
 * The moves of a repair.
 * @param session what stands there
 * @param order which repair, how much, to what temperature
 * @returns none when it takes none, or when the kit cannot do it
 */
export function mendMoves(session: DaySession, order: RepairOrder): Move[] {
  const { day } = session;
  const means = meansOf(session);
  const tun = day.restTun.id;
  const brewer = day.hands.slice(0, 1);
  const stop = order.targetC === undefined ? {} : { stopAtC: order.targetC };
  switch (order.code) {
    case 'accept':
    case 'hold-back':
      return [];
    case 'wait-and-stir':
      return [stirFor(day, order.minutes ?? SETTLE_MIN)];
    case 'last-of-reserve':
      return means.reserve
        ? [
            {
              id: 'mend-reserve',
              kind: 'return',
              from: means.reserve.id,
              to: tun,
              route: day.pullRoute.id,
              hands: routeHands(day, day.pullRoute),
              ...(order.amountL === undefined ? stop : { litres: order.amountL }),
            },
          ]
        : [];
    case 'cold-liquor': {
      const litres = order.amountL ?? 0;
      return [
        {
          id: 'mend-cold',
          kind: 'fill',
          vessel: tun,
          litres,
          tempC: day.document.day.liquorC,
          minutes: Math.max(1, litres / COLD_L_PER_MIN),
          hands: brewer,
        },
      ];
    }
    case 'boiling-liquor':
      return boilingLiquor(day, means, order.amountL ?? 0);
    case 'small-pull':
      return smallPull(day, means, order.amountL ?? 0);
    case 'direct-heat':
      return means.tunBurner && order.targetC !== undefined
        ? [
            {
              id: 'mend-heat',
              kind: 'heat',
              vessel: tun,
              burner: means.tunBurner.id,
              to: order.targetC,
              maxKPerMin: SLOW_K_PER_MIN,
              lidOn: false,
              hands: [stirrer(day)],
            },
          ]
        : [];
  }
}

function stirFor(day: BrewDay, minutes: number): Move {
  return {
    id: 'mend-stir',
    kind: 'wait',
    vessel: day.restTun.id,
    minutes,
    lidOn: false,
    hands: [stirrer(day)],
  };
}

function boilingLiquor(day: BrewDay, means: RepairMeans, litres: number): Move[] {
  const { liquor } = means;
  if (!liquor || (!liquor.burner && means.liquorL < litres)) return [];
  const { vessel, burner } = liquor;
  const missing = litres - means.liquorL;
  const moves: Move[] = [];
  if (missing > 0)
    moves.push({
      id: 'mend-liquor-in',
      kind: 'fill',
      vessel: vessel.id,
      litres: missing + (means.liquorL > 0 ? 0 : vessel.deadL),
      tempC: day.document.day.liquorC,
      minutes: 0,
      hands: [],
    });
  if (burner)
    moves.push({
      id: 'mend-liquor-up',
      kind: 'heat',
      vessel: vessel.id,
      burner: burner.id,
      to: 'boil',
      lidOn: true,
      hands: [],
    });
  moves.push({
    id: 'mend-pour',
    kind: 'pour',
    from: vessel.id,
    to: day.restTun.id,
    route: day.strikeRoute.id,
    litres,
    hands: day.hands.slice(0, 1),
  });
  return moves;
}

function smallPull(day: BrewDay, means: RepairMeans, litres: number): Move[] {
  if (!means.pot) return [];
  const { vessel, burner } = means.pot;
  const hands = routeHands(day, day.pullRoute);
  const route = day.pullRoute.id;
  const tun = day.restTun.id;
  const cook = { vessel: vessel.id, burner: burner.id, hands: [stirrer(day)] };
  return [
    {
      id: 'mend-pull',
      kind: 'pull',
      from: tun,
      to: vessel.id,
      route,
      litres,
      thickness: 'as-it-comes',
      hands,
    },
    { ...cook, id: 'mend-up', kind: 'heat', to: 'boil', lidOn: false },
    { ...cook, id: 'mend-boil', kind: 'boil', minutes: SMALL_PULL_BOIL_MIN, power: 0.5 },
    { id: 'mend-return', kind: 'return', from: vessel.id, to: tun, route, hands },
  ];
}
