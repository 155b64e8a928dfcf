/**
 * The day as a score, before any pixel: one stave per vessel, what stands in it when, what passes
 * from one to another, and who is busy. Built from a simulated trace; computes no physics.
 */
import type { Kit, Move, MoveTrace, TransferTrace, VesselCurve } from '@ladlework/brewhouse';
import { nameIn, type Say, VERB } from '@ladlework/brewhouse';
import type { MashBand, Plan } from '@ladlework/planner';
import { type Lane, lanesFor } from './mash-lanes.ts';
import { traceAt } from './trace-at.ts';

/** What a line is made of. `heat` is mash with a burner working on it. */
export type Matter = 'liquor' | 'mash' | 'wort' | 'heat';

/** A move as far as the score looks into it. */
export interface ScoreMove
  extends Pick<
    MoveTrace,
    'id' | 'kind' | 'vessels' | 'hands' | 'startMin' | 'endMin' | 'fromC' | 'toC'
  > {
  readonly transfer?: Pick<TransferTrace, 'sourceC' | 'landingC'> &
    Partial<Pick<TransferTrace, 'arrivalC' | 'litres'>>;
}

/** A simulated day, or one that happened and goes on. */
export interface ScoreTrace {
  readonly moves: readonly ScoreMove[];
  readonly curves: readonly VesselCurve[];
}

/** An unbroken stretch of one matter in one vessel. */
export interface Stretch {
  readonly matter: Matter;
  readonly timeMin: readonly number[];
  readonly tempC: readonly number[];
}

export interface Stave {
  readonly vessel: string;
  readonly name: string;
  readonly stretches: readonly Stretch[];
  /** What was planned, where that is another line. */
  readonly behind?: readonly Stretch[];
  readonly band:
    | {
        readonly timeMin: readonly number[];
        readonly lowC: readonly number[];
        readonly highC: readonly number[];
      }
    | undefined;
  /** While a burner heats it. */
  readonly fires: readonly (readonly [number, number])[];
  readonly lowC: number;
  readonly highC: number;
  /** What becomes of the mash in it; empty where none stands. */
  readonly lanes: readonly Lane[];
}

/** Content on its way from one stave to another. */
export interface Pass {
  readonly moveId: string;
  readonly from: string;
  readonly to: string;
  readonly startMin: number;
  readonly endMin: number;
  readonly sourceC: number;
  readonly landingC: number;
  readonly matter: Matter;
}

/** A word or number written into a stave. */
export interface Mark {
  readonly vessel: string;
  readonly atMin: number;
  readonly tempC: number;
  readonly text: string;
  /** Lower is placed first. */
  readonly rank: number;
  readonly strong: boolean;
}

export interface Busy {
  readonly hand: string;
  readonly moveId: string;
  readonly startMin: number;
  readonly endMin: number;
  readonly text: string;
}

export interface ScoreModel {
  readonly staves: readonly Stave[];
  readonly passes: readonly Pass[];
  readonly marks: readonly Mark[];
  readonly hands: readonly { readonly hand: string; readonly name: string }[];
  readonly busy: readonly Busy[];
  readonly fromMin: number;
  readonly toMin: number;
}

/**
 * @param kit names, and the litres that count as empty
 * @param moves the plan's moves
 * @param trace the likely day
 * @param bands low and high temperature per vessel; empty for none
 * @param say how quantities are written into the score
 * @param mash starch, extract and enzymes per vessel; empty for none
 */
export function scoreModel(
  kit: Kit,
  moves: readonly Move[],
  trace: ScoreTrace,
  bands: Plan['curveBands'],
  say: Say,
  mash: readonly MashBand[] = [],
): ScoreModel {
  const byId = new Map(moves.map((move) => [move.id, move]));
  const staves: Stave[] = [];
  for (const curve of trace.curves) {
    const vessel = kit.vessels.find((v) => v.id === curve.vessel);
    const changes = matterChanges(curve.vessel, trace.moves, byId);
    const stretches = cut(curve, changes, emptyBelow(vessel?.deadL ?? 0, vessel?.brimL ?? 0));
    if (stretches.length === 0) continue;
    const temps = stretches.flatMap((s) => s.tempC);
    const [lowC, highC] = reach(temps);
    staves.push({
      vessel: curve.vessel,
      name: vessel?.name ?? curve.vessel,
      stretches,
      band: bands.find((b) => b.vessel === curve.vessel),
      fires: firesUnder(curve.vessel, trace.moves),
      lowC,
      highC,
      lanes: lanesFor(curve.vessel, mash, say),
    });
  }
  staves.sort((a, b) => staveOrder(kit, a.vessel) - staveOrder(kit, b.vessel));
  const ends = trace.moves.map((m) => m.endMin);
  return {
    staves,
    passes: passesOf(trace, byId),
    marks: marksOf(kit, trace.moves, byId, say),
    hands: kit.hands.map((h) => ({ hand: h.id, name: h.name })),
    busy: trace.moves.flatMap((m) =>
      m.hands.map((hand) => ({
        hand,
        moveId: m.id,
        startMin: m.startMin,
        endMin: m.endMin,
        text: VERB[m.kind].toLowerCase(),
      })),
    ),
    fromMin: Math.min(0, ...trace.moves.map((m) => m.startMin)),
    toMin: Math.max(30, ...ends),
  };
}

/** The tun on top, what boils beside it under it, liquor and the rest below. */
export function staveOrder(kit: Kit, id: string): number {
  const ranks = ['mash-tun', 'lauter-tun', 'pot', 'kettle', 'liquor-tank', 'fermenter'];
  const index = kit.vessels.findIndex((v) => v.id === id);
  const role = kit.vessels[index]?.role;
  return (role === undefined ? ranks.length : ranks.indexOf(role)) * 100 + index;
}

/** Dead volume and drips are not content to draw. */
const emptyBelow = (deadL: number, brimL: number): number =>
  Math.max(deadL * 1.1 + 0.3, brimL * 0.02);

/** Scale of a stave that holds these temperatures, with a little room. */
export function reach(temps: readonly number[]): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const t of temps) {
    if (t < low) low = t;
    if (t > high) high = t;
  }
  const room = Math.max(3, (high - low) * 0.08);
  return [low - room, high + room];
}

interface Change {
  readonly atMin: number;
  readonly matter: Matter;
}

function matterChanges(
  vessel: string,
  traces: readonly ScoreMove[],
  byId: ReadonlyMap<string, Move>,
): Change[] {
  const changes: Change[] = [];
  let content: 'liquor' | 'mash' = 'liquor';
  const set = (atMin: number, matter: Matter) => changes.push({ atMin, matter });
  for (const t of [...traces].sort((a, b) => a.startMin - b.startMin)) {
    const move = byId.get(t.id);
    if (move === undefined) continue;
    if (move.kind === 'mash-in' && move.vessel === vessel) {
      content = 'mash';
      set(t.startMin, 'mash');
    } else if ((move.kind === 'pull' || move.kind === 'return') && move.to === vessel) {
      content = 'mash';
      set(t.startMin, 'mash');
    } else if ((move.kind === 'fill' || move.kind === 'rinse') && move.vessel === vessel) {
      content = 'liquor';
      set(t.startMin, 'liquor');
    } else if (
      (move.kind === 'heat' || move.kind === 'hold' || move.kind === 'boil') &&
      move.vessel === vessel &&
      content === 'mash'
    ) {
      set(t.startMin, 'heat');
      set(t.endMin, 'mash');
    }
  }
  return changes.sort((a, b) => a.atMin - b.atMin);
}

function cut(curve: VesselCurve, changes: readonly Change[], emptyL: number): Stretch[] {
  const out: Stretch[] = [];
  let times: number[] = [];
  let temps: number[] = [];
  let matter: Matter = 'liquor';
  let change = 0;
  const close = () => {
    if (times.length > 1) out.push({ matter, timeMin: times, tempC: temps });
    times = [];
    temps = [];
  };
  for (let i = 0; i < curve.timeMin.length; i++) {
    const t = curve.timeMin[i] ?? 0;
    const c = curve.tempC[i] ?? 0;
    const full = (curve.volumeL[i] ?? 0) > emptyL;
    while ((changes[change]?.atMin ?? Infinity) <= t) {
      const next: Matter = changes[change]?.matter ?? matter;
      change += 1;
      if (next === matter) continue;
      if (times.length > 0) {
        times.push(t);
        temps.push(c);
        close();
      }
      matter = next;
    }
    if (full) {
      times.push(t);
      temps.push(c);
    } else {
      close();
    }
  }
  close();
  return out;
}

function firesUnder(vessel: string, traces: readonly ScoreMove[]): [number, number][] {
  const fires: [number, number][] = [];
  for (const t of traces) {
    if (t.kind !== 'heat' && t.kind !== 'hold' && t.kind !== 'boil') continue;
    if (!t.vessels.includes(vessel)) continue;
    const last = fires.at(-1);
    if (last !== undefined && t.startMin - last[1] < 0.01) last[1] = t.endMin;
    else fires.push([t.startMin, t.endMin]);
  }
  return fires;
}

/** A return of a pot that turned out empty carries nothing to draw [L]. */
const NOTHING_L = 0.5;
const carriesNothing = (t: ScoreMove): boolean => (t.transfer?.litres ?? NOTHING_L) < NOTHING_L;

function passesOf(trace: ScoreTrace, byId: ReadonlyMap<string, Move>): Pass[] {
  const passes: Pass[] = [];
  for (const t of trace.moves) {
    const move = byId.get(t.id);
    if (move === undefined || carriesNothing(t)) continue;
    if (move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour') {
      passes.push({
        moveId: t.id,
        from: move.from,
        to: move.to,
        startMin: t.startMin,
        endMin: t.endMin,
        sourceC: t.transfer?.sourceC ?? t.fromC,
        landingC: t.transfer?.landingC ?? t.toC,
        matter: move.kind === 'pull' ? 'mash' : move.kind === 'return' ? 'heat' : 'liquor',
      });
    } else if ((move.kind === 'mash-in' || move.kind === 'preheat') && move.from !== move.vessel) {
      passes.push({
        moveId: t.id,
        from: move.from,
        to: move.vessel,
        startMin: t.startMin,
        endMin: t.endMin,
        // The trace tells the receiving vessel; where the giving one stands is on its own curve.
        sourceC: traceAt(trace, move.from, t.startMin) ?? t.fromC,
        landingC: t.toC,
        matter: 'liquor',
      });
    }
  }
  return passes;
}

function marksOf(
  kit: Kit,
  traces: readonly ScoreMove[],
  byId: ReadonlyMap<string, Move>,
  say: Say,
): Mark[] {
  const marks: Mark[] = [];
  const put = (
    vessel: string,
    atMin: number,
    tempC: number,
    text: string,
    rank: number,
    strong = false,
  ) => marks.push({ vessel, atMin, tempC, text, rank, strong });
  for (const t of traces) {
    const move = byId.get(t.id);
    if (move === undefined || carriesNothing(t)) continue;
    switch (move.kind) {
      case 'fill':
        put(move.vessel, t.startMin, t.toC, `fill ${say.volume(move.litres)}`, 5);
        break;
      case 'mash-in':
        put(move.vessel, t.endMin, t.toC, say.temp(t.toC), 1, true);
        if (move.from !== move.vessel) {
          put(move.from, t.startMin, t.fromC, `strike ${say.volume(move.litres)}`, 4);
        }
        break;
      case 'rest':
        put(move.vessel, t.endMin, t.toC, say.temp(t.toC), 3);
        break;
      case 'heat':
        if (move.to !== 'boil') put(move.vessel, t.endMin, t.toC, say.temp(t.toC), 3);
        break;
      case 'hold':
        put(move.vessel, t.startMin, t.toC, `hold ${say.minutes(move.minutes)}`, 6);
        break;
      case 'boil':
        put(move.vessel, t.startMin, t.toC, `boil ${say.minutes(move.minutes)}`, 2);
        break;
      case 'pull':
        put(move.to, t.endMin, t.toC, `pull ${say.volume(move.litres)}`, 2);
        break;
      case 'return':
        put(move.to, t.endMin, t.toC, say.temp(t.toC), 1, true);
        if (t.transfer?.arrivalC !== undefined) {
          put(
            move.from,
            t.startMin,
            t.transfer.sourceC,
            `arrives ${say.temp(t.transfer.arrivalC)}`,
            4,
          );
        }
        break;
      case 'pour':
        put(
          move.to,
          t.endMin,
          t.toC,
          `${say.volume(move.litres)} from ${nameIn(kit, move.from)}`,
          5,
        );
        break;
      default:
        break;
    }
  }
  return marks;
}
