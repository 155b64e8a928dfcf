/** The moves of a brew day: mash in, each raise, and the rests between them. */
import type { Move, Situation, Thickness } from '@ladlework/brewhouse';
import {
  type BrewDay,
  burnerFor,
  type Decoction,
  FAST_K_PER_MIN,
  type PotLoad,
  pullAfterMin,
  routeHands,
  SLOW_K_PER_MIN,
  stirrer,
} from './day.ts';

/** Litres per pot load, in the order of the loads. */
export interface PullSize {
  readonly loads: readonly number[];
  /** Stop the last returns at this [°C]; left out: everything goes back unread. */
  readonly stopAtC?: number;
}

/** Strike liquor as the brewer measures it, hot. */
export interface Strike {
  readonly litres: number;
  readonly tempC: number;
}

/**
 * From cold liquor to the first rest.
 * @param day the day
 * @param strike litres and temperature of the strike liquor
 */
export function mashInMoves(day: BrewDay, strike: Strike): Move[] {
  const { document, liquorVessel, tun } = day;
  const preheatL = document.day.preheatTunL ?? 0;
  const brewer = day.hands.slice(0, 1);
  const total = (strike.litres + preheatL) * (1 + STRIKE_SPARE) + liquorVessel.deadL;
  const startC = document.day.kettleC ?? document.day.liquorC;
  const moves: Move[] = [];
  const heated = startC < strike.tempC - 0.05;
  moves.push({
    id: 'liquor-in',
    kind: 'fill',
    vessel: liquorVessel.id,
    litres: total,
    tempC: heated ? startC : strike.tempC,
    minutes: 0,
    hands: brewer,
    note: heated
      ? `${liquorVessel.name}: liquor in`
      : `${liquorVessel.name}: mix hot with cold liquor to the strike temperature`,
  });
  if (heated && day.liquorBurner)
    moves.push({
      id: 'heat-liquor',
      kind: 'heat',
      vessel: liquorVessel.id,
      burner: day.liquorBurner.id,
      to: strike.tempC,
      lidOn: true,
      hands: [],
      note: 'Heat the strike liquor',
    });
  if (preheatL > 0 && tun.id !== liquorVessel.id)
    moves.push({
      id: 'preheat',
      kind: 'preheat',
      vessel: tun.id,
      from: liquorVessel.id,
      litres: preheatL,
      minutes: 5,
      hands: brewer,
      note: `Warm ${tun.name} with hot liquor, then drain`,
    });
  moves.push({
    id: 'mash-in',
    kind: 'mash-in',
    vessel: tun.id,
    from: liquorVessel.id,
    litres: strike.litres,
    grist: { kg: day.gristKg, tempC: document.day.gristC, moisture: day.moisture },
    minutes: day.mashInMin,
    hands: day.hands.slice(0, 2),
    note: 'Mash in',
  });
  if (boilsPulls(day, liquorVessel.id) && tun.id !== liquorVessel.id)
    moves.push({
      id: 'drain-liquor',
      kind: 'rinse',
      vessel: liquorVessel.id,
      minutes: DRAIN_MIN,
      hands: brewer,
      note: `Drain what is left of the strike liquor, the pull goes into ${liquorVessel.name}`,
    });
  return moves;
}

/** Opening a valve and a look inside; our judgement [min]. */
const DRAIN_MIN = 2;

function boilsPulls(day: BrewDay, vessel: string): boolean {
  return day.document.mash.raises.some((r) => r.by === 'decoction' && r.pots.includes(vessel));
}

/** Strike liquor above the need: it shrinks and steams a little before it is used. */
const STRIKE_SPARE = 0.01;

/** The rest before raise `index`, up to the moment the raise begins. */
export function restMoves(day: BrewDay, index: number): Move[] {
  const rest = day.document.mash.rests[index];
  if (!rest) return [];
  const raise = day.document.mash.raises[index];
  const minutes = raise?.by === 'decoction' ? pullAfterMin(rest) : rest.minutes;
  return [
    {
      id: `rest-${index + 1}`,
      kind: 'rest',
      vessel: mashVessel(day, index),
      minutes,
      hands: [],
      note: 'Rest',
    },
  ];
}

/** Vessel the mash rests in before raise `index`. */
export function mashVessel(day: BrewDay, index: number): string {
  return index === 0 ? day.tun.id : day.restTun.id;
}

/**
 * The moves of one decoction, pull to return.
 * @param day the day
 * @param index raise, from 0
 * @param raise the decoction
 * @param loads its pots and burners
 * @param size litres per load and where to stop
 * @param parkL in kettle-mash, what is parked so that the load stays
 */
export function decoctionMoves(
  day: BrewDay,
  index: number,
  raise: Decoction,
  loads: readonly PotLoad[],
  size: PullSize,
  parkL?: ParkedPull,
): Move[] {
  const rest = day.document.mash.rests[index];
  const from = mashVessel(day, index);
  const to = day.restTun.id;
  const n = index + 1;
  const liquorL = raise.boilingLiquorL ?? 0;
  const carried: Move[][] = [];
  const cooked: Move[][] = [];
  const back: Move[][] = [];
  loads.forEach((load, k) => {
    const tag = loads.length > 1 ? `${n}${'abcdefgh'[k]}` : `${n}`;
    const litres = size.loads[k] as number;
    const last = raise.order === 'side-by-side' || k === loads.length - 1;
    carried.push([
      parkL
        ? {
            id: `pull-${tag}`,
            kind: 'pull',
            from,
            to,
            route: day.pullRoute.id,
            litres: parkL.litres,
            thickness: parkL.thickness,
            hands: routeHands(day, day.pullRoute),
            note: `Park the rest of the mash, boil what stays`,
          }
        : {
            id: `pull-${tag}`,
            kind: 'pull',
            from,
            to: load.pot.id,
            route: day.pullRoute.id,
            litres,
            thickness: raise.thickness,
            hands: routeHands(day, day.pullRoute),
            note: 'Pull',
          },
    ]);
    // Hands are the helper first, then the brewer; whoever is left over stirs two pots at once.
    const stirs =
      raise.order === 'in-turn' ? [stirrer(day)] : k < day.hands.length ? [stirrer(day, k)] : [];
    cooked.push(cookMoves(raise, load, tag, stirs));
    back.push([
      {
        id: `return-${tag}`,
        kind: 'return',
        from: load.pot.id,
        to,
        route: day.pullRoute.id,
        hands: routeHands(day, day.pullRoute),
        note: 'Return in portions, stir hard, read after each',
        // With liquor to follow, the whole pull goes back and the liquor trims the landing.
        ...(last && size.stopAtC !== undefined && liquorL === 0 ? { stopAtC: size.stopAtC } : {}),
      },
    ]);
  });
  const leftMin = (rest?.minutes ?? 0) - (rest ? pullAfterMin(rest) : 0);
  const waitMin = Math.max(0, leftMin - pullMin(day, size));
  const firstPull = `pull-${loads.length > 1 ? `${n}a` : n}`;
  const restOn: Move = {
    id: `rest-on-${n}`,
    kind: 'rest',
    vessel: to,
    minutes: waitMin,
    until: { move: firstPull, minutes: leftMin },
    hands: [],
    note: 'The rest goes on beside the pull',
  };
  const between = waitMin > 0 ? [restOn] : [];
  const moves =
    raise.order === 'side-by-side'
      ? [...carried.flat(), ...cooked.flat(), ...between, ...back.flat()]
      : loads.flatMap((_, k) => [
          ...(carried[k] as Move[]),
          ...(cooked[k] as Move[]),
          // The first load back ends the rest, so the rest is over before it.
          ...(k === 0 ? between : []),
          ...(back[k] as Move[]),
        ]);
  if (liquorL <= 0) return moves;
  const liquor = boilingLiquorMoves(day, `${n}`, liquorL, size.stopAtC);
  const busy = loads.some(
    (l) => l.pot.id === day.liquorVessel.id || l.burner.id === day.liquorBurner?.id,
  );
  // In the pull's own pot the liquor follows it and rinses it out.
  if (busy) return [...moves, ...liquor];
  const pour = liquor.pop() as Move;
  const reheat = liquor
    .filter((m) => m.kind === 'heat')
    .map((m) => ({ ...m, id: `boil-liquor-${n}`, note: 'Back to the boil' }));
  const pulls = moves.findIndex((m) => m.kind !== 'pull');
  return [...moves.slice(0, pulls), ...liquor, ...moves.slice(pulls), ...reheat, pour];
}

/** In kettle-mash: what goes over to the tun so that the load asked for stays. */
export interface ParkedPull {
  readonly litres: number;
  readonly thickness: Thickness;
}

/** Minutes the pulls take on paper, all loads. */
function pullMin(day: BrewDay, size: PullSize): number {
  const { portionL, minutesPerPortion } = day.pullRoute;
  return size.loads.reduce((sum, l) => sum + Math.ceil(l / portionL) * minutesPerPortion, 0);
}

/** Heat with the rest inside the pull, then boil. */
function cookMoves(raise: Decoction, load: PotLoad, tag: string, hands: readonly string[]): Move[] {
  const base = { vessel: load.pot.id, burner: load.burner.id, hands };
  const moves: Move[] = [];
  const rest = raise.pullRest;
  if (rest) {
    moves.push({
      ...base,
      id: `heat-${tag}`,
      kind: 'heat',
      to: rest.tempC,
      maxKPerMin: SLOW_K_PER_MIN,
      lidOn: false,
      note: 'Heat slowly, stir without a break until it thins',
    });
    if (rest.minutes > 0)
      moves.push({
        ...base,
        id: `hold-${tag}`,
        kind: 'hold',
        minutes: rest.minutes,
        lidOn: true,
        note: 'Rest inside the pull',
      });
  }
  moves.push(
    {
      ...base,
      id: `boil-up-${tag}`,
      kind: 'heat',
      to: 'boil',
      maxKPerMin: FAST_K_PER_MIN,
      lidOn: false,
      note: 'Bring to the boil, stir',
    },
    {
      ...base,
      id: `boil-${tag}`,
      kind: 'boil',
      minutes: raise.boilMinutes,
      power: BOIL_POWER,
      note: 'Boil, stir',
    },
  );
  return moves;
}

/** A pull is boiled gently: half the burner, so that it neither climbs nor spits. Our judgement. */
const BOIL_POWER = 0.5;

/** Boiling liquor beside a pull, or in place of one. */
export function boilingLiquorMoves(
  day: BrewDay,
  tag: string,
  litres: number,
  stopAtC: number | undefined,
  tempC?: number,
): Move[] {
  const { liquorVessel, liquorBurner, document } = day;
  const hands = day.hands.slice(0, 1);
  const moves: Move[] = [
    {
      id: `liquor-in-${tag}`,
      kind: 'fill',
      vessel: liquorVessel.id,
      litres: litres + liquorVessel.deadL,
      tempC: document.day.liquorC,
      minutes: 0,
      hands,
      note: 'Liquor in',
    },
  ];
  if (liquorBurner)
    moves.push({
      id: `heat-liquor-${tag}`,
      kind: 'heat',
      vessel: liquorVessel.id,
      burner: liquorBurner.id,
      to: tempC ?? 'boil',
      lidOn: true,
      hands: [],
      note: 'Heat the liquor',
    });
  moves.push({
    id: `pour-${tag}`,
    kind: 'pour',
    from: liquorVessel.id,
    to: day.restTun.id,
    route: day.strikeRoute.id,
    litres,
    hands,
    note: 'Pour in hot liquor, stir',
    ...(stopAtC === undefined ? {} : { stopAtC }),
  });
  return moves;
}

/** Raise by the burner under or around the mash vessel. */
export function directHeatMoves(day: BrewDay, index: number, toC: number, kPerMin: number): Move[] {
  const vessel = mashVessel(day, index);
  const burner = burnerFor(day.kit, vessel);
  if (!burner) return [];
  return [
    {
      id: `raise-${index + 1}`,
      kind: 'heat',
      vessel,
      burner: burner.id,
      to: toC,
      maxKPerMin: kPerMin,
      lidOn: true,
      hands: [stirrer(day)],
      note: 'Heat the mash, stir',
    },
  ];
}

/** State of one vessel in a situation. */
export function stateIn(situation: Situation, vessel: string) {
  const state = situation.vessels.find((s) => s.vessel === vessel);
  if (!state) throw new Error(`no vessel ${vessel} in the situation`);
  return state;
}
