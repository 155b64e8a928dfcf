/** The mash of a plan as activities: its moves, with what may wait for what and how long. */
import type { Move } from '@ladlework/brewhouse';
import { type BrewDay, vesselOf } from '../day.ts';
import { isSettling } from '../kept-back.ts';
import type { Band, PlannedMove, TimedMash } from '../plan.ts';
import type { DayBuilder } from './day-builder.ts';
import type { StandTables } from './liquor-stand.ts';
import type { BrewChoice } from './liquor-ways.ts';
import type { Use } from './problem.ts';
import { parkStrike, type StrikePark } from './strike-park.ts';

/** Minutes a pull may stand before it is heated, and boiled before it is returned; our judgement. */
const PULL_WAITS_MIN = 5;
const BOILED_WAITS_MIN = 10;
/** Hot liquor or a warmed tun may stand this long without a new sum; our judgement. */
const HOT_WAITS_MIN = 15;
/** A mash that is through, at its last rest, may stand; our judgement within field.md 2. */
const LAST_REST_STRETCH_MIN = 60;
/** Settle before reading. @source field.md 6.18, 5-10 min */
const SETTLE_MIN = 5;
const READ_MIN = 5;

/** What the later parts of the day hang on. */
export interface MashPart {
  readonly firstId: string;
  readonly mashInId: string;
  readonly lastId: string;
  /** Activities on the liquor vessel before the mash is in. */
  readonly strikeIds: readonly string[];
  readonly strikeContent: string;
  /** The last activity of a pull in each pot. */
  readonly lastInPot: ReadonlyMap<string, { readonly id: string; readonly content: string }>;
  readonly mashContent: string;
  /** Strike liquor that waits outside its own vessel. */
  readonly strikePark?: StrikePark;
}

/**
 * Adds the mash to a day.
 * @param build the day
 * @param day the plan's document, looked up
 * @param plan the plan
 * @param restStretchMin how much longer each rest may last [min]
 * @param choice where the liquor is heated and waits
 * @param tables heat of liquor that stands
 */
export function addMash(
  build: DayBuilder,
  day: BrewDay,
  plan: TimedMash,
  restStretchMin: (rest: number) => number,
  choice: BrewChoice,
  tables: StandTables,
): MashPart {
  const { withStrike } = choice;
  const lastOn = new Map<string, { id: string; move: Move; content: string }>();
  const firstOf = new Map<string, { vessel: string; content: string; from: string; to: string }>();
  const lastInPot = new Map<string, { id: string; content: string }>();
  const strikeIds: string[] = [];
  const rests = day.document.mash.rests;
  let firstId = '';
  let mashInId = '';
  let lastId = '';
  plan.moves.forEach((planned, k) => {
    const { move } = planned;
    const timed = plan.trace.moves[k];
    const likely = timed ? timed.endMin - timed.startMin : 0;
    if (move.kind === 'return' && likely < 1e-6) return;
    // What is left of the strike liquor is the sparge liquor: nobody drains that.
    if (withStrike && move.kind === 'rinse' && move.vessel === day.liquorVessel.id) return;
    const uses = usesOf(day, build, move);
    const restNo = move.kind === 'rest' ? /^rest-(\d+)$/.exec(move.id)?.[1] : undefined;
    const stretch = stretchOf(move, restNo, rests.length, restStretchMin);
    const id = build.add(move.id, nameOf(day, move, restNo), durationOf(planned, likely), {
      moveId: move.id,
      vessels: uses,
      tools: toolsOf(day, move),
      hands:
        move.hands.length > 0
          ? build.hands('busy', move.hands.length, move.hands)
          : build.hands('at-hand', move.kind === 'heat' ? 1 : 0),
      ...(stretch > 0 ? { stretchMin: stretch } : {}),
    });
    firstId ||= id;
    if (move.kind === 'mash-in') mashInId = id;
    for (const use of uses) {
      const before = lastOn.get(use.vessel);
      if (before) {
        const [most, why] = mostBetween(before.move, move);
        build.follow(
          before.id,
          id,
          before.content === use.content || most === undefined ? most : undefined,
          why,
        );
      }
      lastOn.set(use.vessel, { id, move, content: use.content });
      const key = `${use.vessel} ${use.content}`;
      const held = firstOf.get(key);
      firstOf.set(key, { ...use, from: held?.from ?? id, to: id });
      const leftBehind = use.vessel === day.tun.id && day.tun.id !== day.restTun.id;
      if (use.content.includes('pull-') || leftBehind)
        lastInPot.set(use.vessel, { id, content: use.content });
      if (use.content === build.own('strike')) strikeIds.push(id);
      if (use.content === build.own('mash')) lastId = id;
    }
    if (move.kind === 'mash-in' || move.id.startsWith('return')) {
      const read = build.work(`read-${move.id}`, 'Let it settle, read in three places', READ_MIN, {
        hands: build.hands('busy', 1),
        passes: true,
      });
      build.lag(
        id,
        'end',
        read,
        'start',
        SETTLE_MIN,
        SETTLE_MIN + READ_MIN,
        'the reading is wanted while it can still be mended',
      );
    }
  });
  for (const h of firstOf.values()) build.hold(h.vessel, h.content, h.from, h.to);
  const strikePark = choice.strike && parkStrike(build, day, plan.strike, choice.strike, tables);
  return {
    firstId,
    mashInId,
    lastId,
    strikeIds,
    strikeContent: build.own(day.liquorVessel.id === day.tun.id ? 'mash' : 'strike'),
    lastInPot,
    mashContent: build.own('mash'),
    ...(strikePark ? { strikePark } : {}),
  };
}

/** Duration with its band: start and end move together on a slow or a fast kit. */
function durationOf(planned: PlannedMove, likely: number): Band {
  const a = planned.endMin.low - planned.startMin.low;
  const b = planned.endMin.high - planned.startMin.high;
  return {
    low: Math.max(0, Math.min(a, b, likely)),
    likely,
    high: Math.max(a, b, likely),
  };
}

function stretchOf(
  move: Move,
  restNo: string | undefined,
  rests: number,
  stretch: (rest: number) => number,
): number {
  // What waits in a pot beside a rest waits as long as the rest does.
  if (move.kind === 'wait') return Number.POSITIVE_INFINITY;
  // Left unstirred for the next pull, after the rest proper has had its stretch.
  if (move.kind !== 'rest' || isSettling(move)) return 0;
  if (restNo === undefined) return Number.POSITIVE_INFINITY;
  const k = Number(restNo);
  return k === rests ? Math.max(LAST_REST_STRETCH_MIN, stretch(k - 1)) : stretch(k - 1);
}

/** Vessels a move works on, and whose content stands there. */
function usesOf(day: BrewDay, build: DayBuilder, move: Move): Use[] {
  const mash = [day.tun.id, day.restTun.id];
  const pull = /-(\d+[a-h]?)$/.exec(move.id)?.[1] ?? '';
  const kept = (vessel: string): string => {
    if (move.kind === 'preheat' && vessel === move.vessel) return build.own('warming');
    if (mash.includes(vessel)) return build.own('mash');
    if (vessel === day.liquorVessel.id && handlesLiquor(move))
      return pull === '' || move.kind === 'mash-in'
        ? build.own('strike')
        : build.own(`liquor-${pull}`);
    return build.own(`pull-${pull}`);
  };
  return touched(move).map((vessel) => ({ vessel, content: kept(vessel) }));
}

/** Liquor is heated, or brought back to the boil, beside a pull or for a raise of its own. */
const heatsLiquor = (move: Move) => /^(heat|boil)-liquor/.test(move.id);

/** Is it liquor that this move has to do with, and not a pull? */
function handlesLiquor(move: Move): boolean {
  switch (move.kind) {
    case 'fill':
    case 'pour':
    case 'preheat':
    case 'mash-in':
    case 'rinse':
      return true;
    case 'heat':
      return heatsLiquor(move);
    default:
      return false;
  }
}

function touched(move: Move): string[] {
  const both =
    move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour'
      ? [move.from, move.to]
      : move.kind === 'mash-in' || move.kind === 'preheat'
        ? [move.from, move.vessel]
        : [move.vessel];
  return [...new Set(both)];
}

function toolsOf(day: BrewDay, move: Move): string[] {
  if ('burner' in move) return [move.burner];
  if (!('route' in move)) return [];
  const route = day.kit.routes.find((r) => r.id === move.route);
  return route && (route.how === 'pump' || route.how === 'gravity') ? [`route ${route.id}`] : [];
}

/** How long the content of a vessel may wait between two moves, and why not longer. */
function mostBetween(before: Move, next: Move): [number | undefined, string | undefined] {
  const cooks = (m: Move) => m.kind === 'heat' || m.kind === 'hold' || m.kind === 'boil';
  if (before.kind === 'pull' && cooks(next))
    return [PULL_WAITS_MIN, 'a pull that stands unheated cools and goes on working'];
  if (heatsLiquor(before) && heatsLiquor(next)) return [undefined, undefined];
  if (cooks(before) && cooks(next)) return [0, 'a pull on the fire is not left standing'];
  if (cooks(before) && next.kind === 'return')
    return [BOILED_WAITS_MIN, 'a boiled pull that stands arrives too cool'];
  const liquor = next.kind === 'mash-in' || next.kind === 'preheat' || next.kind === 'pour';
  if ((before.kind === 'heat' || before.kind === 'preheat') && liquor)
    return [HOT_WAITS_MIN, 'hot liquor and a warmed tun cool while they stand'];
  if (before.kind === 'rest' && (/^rest-\d/.test(before.id) || isSettling(before)))
    return [0, 'the rest is over when the next step begins'];
  if (next.kind === 'rest')
    return before.kind === 'pull'
      ? [undefined, undefined]
      : [0, 'the rest begins as soon as the mash has landed'];
  return [undefined, undefined];
}

function nameOf(day: BrewDay, move: Move, restNo: string | undefined): string {
  const n = /-(\d+[a-h]?)$/.exec(move.id)?.[1];
  const name = (id: string) => vesselOf(day.kit, id).name;
  const rest = restNo === undefined ? undefined : day.document.mash.rests[Number(restNo) - 1];
  if (rest) return `Rest at ${rest.tempC} °C`;
  switch (move.kind) {
    case 'fill':
      return `Liquor into ${name(move.vessel)}`;
    case 'preheat':
      return `Warm ${name(move.vessel)}`;
    case 'mash-in':
      return 'Mash in';
    case 'rest':
      return isSettling(move) ? 'Leave the mash unstirred' : `Rest beside pull ${n}`;
    case 'pull':
      return `Pull ${n}`;
    case 'return':
      return move.id.startsWith('kept') ? `Return what was kept of pull ${n}` : `Return pull ${n}`;
    case 'heat':
      if (move.id.startsWith('boil-up')) return `Bring pull ${n} to the boil`;
      if (move.id.startsWith('raise')) return 'Heat the mash';
      return heatsLiquor(move) ? 'Heat the liquor' : `Heat pull ${n}`;
    case 'hold':
      return `Rest inside pull ${n}`;
    case 'boil':
      return `Boil pull ${n}`;
    case 'pour':
      return 'Pour in hot liquor';
    case 'rinse':
      return `Drain and rinse ${name(move.vessel)}`;
    case 'wait':
      return n === undefined ? `Wait at ${name(move.vessel)}` : `What was kept of pull ${n} cools`;
  }
}
