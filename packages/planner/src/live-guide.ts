/** During a return: how many more portions before the next reading. */
import { band, quantile } from '@ladlework/numerics';
import type { ReturnGuide } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { allTo } from './live-going-on.ts';
import { afterLitres, litresTo, type Portions, portionsOf } from './live-portions.ts';
import { type DaySession, moveOf, setUnderway } from './live-session.ts';
import { isTransfer, type TransferMove, vesselIn, withoutStop } from './live-step.ts';
import type { Band } from './plan.ts';

/** The guide stops where the warm end of the band would pass the target by this [K]. */
const OVER_K = 0.5;
/** The warm end it looks at: 90 % of the ensemble lands below. */
const WARM_END = 0.9;
/** A reading older than this says little about the last portions [min]. */
const FRESH_MIN = 4;

export interface GuideRequest {
  /** The return or pour that is going on. */
  readonly moveId: string;
  readonly nowMin: number;
  /** Portions landed so far; left out: those in the entries. */
  readonly portionsDone?: number;
}

/**
 * How many more whole portions to add before reading again.
 * @param session the day
 * @param request which return, how far it is, and the time
 * @returns what to do next, in one sentence
 * @throws RangeError when the move is not a return or pour of this day, or portionsDone is less
 *   than the entries say
 */
export function guideReturn(session: DaySession, request: GuideRequest): ReturnGuide {
  const { moveId, nowMin } = request;
  const move = moveOf(session, moveId);
  if (!move || !isTransfer(move) || move.kind === 'pull')
    throw new RangeError(`move ${moveId} is not a return or a pour of this day`);
  const logged = session.underway.get(moveId)?.portions ?? 0;
  const done = request.portionsDone ?? logged;
  if (!(done >= logged))
    throw new RangeError(`portionsDone ${done}: the log has ${logged}; give ${logged} or more`);
  const caught =
    done > logged
      ? applyEntry(session, { kind: 'portions', moveId, atMin: nowMin, portions: done - logged })
      : session;
  const now = allTo(done === 0 ? uncarried(caught, move) : caught, nowMin);
  return new Guide(now, move, done).advice();
}

/**
 * A return begun and not counted yet. A pump runs by itself, so what it moved is known by the clock;
 * hands may not have begun. Guessed in either way the brewer would be told too few or, worse, too many
 * more: nothing counts as carried, and the advice is of all from the first one.
 */
function uncarried(session: DaySession, move: TransferMove): DaySession {
  const state = session.underway.get(move.id);
  if (state === undefined || flows(session, move)) return session;
  return setUnderway(session, { ...state, portions: Number.MIN_VALUE });
}

const flows = (session: DaySession, move: TransferMove): boolean => {
  const { how } = session.stepper.routeOf(move);
  return how === 'pump' || how === 'gravity';
};

/** What flows is told in steps of ten seconds or so: parts of a portion. */
const PARTS = 6;

class Guide {
  private readonly now: DaySession;
  private readonly move: TransferMove;
  private readonly done: number;
  private readonly portionL: number;
  private readonly targetC: number;
  /** Least that is told: a whole bucket or ladle, or some seconds of flow [L]. */
  private readonly unitL: number;
  private readonly flows: boolean;
  /** Of each particle: the receiving vessel as litres come in. */
  private readonly steps: Portions[] = [];
  private readonly litres: number[] = [];
  private readonly needL: number[] = [];

  constructor(now: DaySession, move: TransferMove, done: number) {
    this.now = now;
    this.move = move;
    this.done = done;
    this.portionL = now.stepper.routeOf(move).portionL;
    this.flows = flows(now, move);
    this.unitL = this.flows ? this.portionL / PARTS : this.portionL;
    this.targetC = targetOf(now, move);
    const all = { ...withoutStop(move), hands: [], earliestMin: now.lastMin };
    for (const p of now.particles) {
      const transfer = now.stepper.simulate(p, [all]).moves[0]?.transfer;
      const before = vesselIn(p, move.to).tempC;
      const steps = portionsOf(before, transfer ? [transfer] : [], this.portionL);
      this.steps.push({ ...steps, tempC: [before, ...steps.tempC.slice(1)] });
      this.litres.push(steps.litres.at(-1) as number);
      this.needL.push(litresTo(steps, this.targetC));
    }
  }

  advice(): ReturnGuide {
    const { targetC } = this;
    const nowC = this.after(0);
    const needL = band(this.needL);
    const left = quantile(this.litres, 0.5);
    const likely = Math.round(needL.likely / this.unitL);
    let more = 0;
    while (more < likely && this.warmEnd(more + 1) <= targetC + OVER_K) more++;
    // A fresh reading is as good as it gets: then one portion at a time, not past the likely need.
    if (more === 0 && likely > 0 && this.freshlyRead()) more = 1;
    const action = likely === 0 || left < 1e-6 ? 'stop' : more > 0 ? 'add' : 'read';
    const keepBackL = Math.max(0, left - needL.likely);
    return {
      tunC: nowC.likely,
      portionsDone: this.done,
      morePortions: action === 'add' ? (more * this.unitL) / this.portionL : 0,
      ...(this.flows && action === 'add' ? { moreSeconds: this.seconds(more) } : {}),
      fromStart: !this.flows && this.done === 0,
      moreL: band(this.needL),
      afterC: action === 'add' ? this.after(more) : nowC,
      targetC,
      keepBackL,
      action,
      text: this.sentence(action, more, keepBackL, left),
    };
  }

  /** After so many units more. */
  private at(units: number): number[] {
    return this.steps.map((s) => afterLitres(s, units * this.unitL));
  }

  private seconds(units: number): number {
    const { minutesPerPortion } = this.now.stepper.routeOf(this.move);
    return Math.round((60 * minutesPerPortion * units) / PARTS / 5) * 5;
  }

  private after(portions: number): Band {
    return band(this.at(portions));
  }

  private warmEnd(portions: number): number {
    return quantile(this.at(portions), WARM_END);
  }

  private freshlyRead(): boolean {
    const read = this.now.lastReading.get(this.move.to);
    const portion = this.now.underway.get(this.move.id)?.lastPortionMin ?? Number.NEGATIVE_INFINITY;
    return (
      read?.what === 'temp' && read.atMin >= portion && this.now.lastMin - read.atMin <= FRESH_MIN
    );
  }

  private sentence(
    action: ReturnGuide['action'],
    more: number,
    keepBackL: number,
    leftL: number,
  ): string {
    const unit = UNITS[this.now.stepper.routeOf(this.move).how];
    if (action === 'add') {
      if (this.flows) return `${this.seconds(more)} s more, then stop, stir and read`;
      const word = more === 1 ? unit.one : unit.many;
      if (this.done === 0) return `First ${more} ${word}, then stir and read`;
      return `${more} more ${word}, then stir and read`;
    }
    if (action === 'read') return 'Stir and read before any more';
    if (leftL < 1e-6) return 'Nothing left to return';
    return keepBackL >= 1 ? `Stop; keep ${keepBackL.toFixed(0)} L back` : 'Stop';
  }
}

/**
 * What a transfer is stopped at: its own mark, that of the pull it belongs to, or for what was
 * kept back and goes in later the rest it goes into.
 */
function targetOf(now: DaySession, move: TransferMove): number {
  if (move.kind !== 'pull' && move.stopAtC !== undefined) return move.stopAtC;
  const index = now.moves.indexOf(move);
  const own = now.pulls.find((g) => index >= g.first && index <= g.last);
  const before = now.pulls.filter((g) => g.last < index).at(-1);
  return (own ?? before)?.targetC ?? Number.POSITIVE_INFINITY;
}

const UNITS = {
  ladle: { one: 'ladle', many: 'ladles' },
  bucket: { one: 'bucket', many: 'buckets' },
  pump: { one: 'minute of pumping', many: 'minutes of pumping' },
  gravity: { one: 'minute of running', many: 'minutes of running' },
} as const;
