/**
 * A brewer who does what the tool says, on a kit the tool does not know: begins each move when
 * vessels and hands are free, reads where it is asked to, returns by the guide, mends by the
 * repairs. Time runs from one event to the next.
 */
import type { Move } from '@ladlework/brewhouse';
import type { DayEntry, Repair } from '../live.ts';
import { applyEntry } from '../live-apply.ts';
import { vesselsNow } from '../live-going-on.ts';
import { guideReturn } from '../live-guide.ts';
import { repairsFor } from '../live-repairs.ts';
import type { PullGroup } from '../live-returns.ts';
import type { DaySession } from '../live-session.ts';
import { isTransfer, type TransferMove, touchedBy } from '../live-step.ts';
import { readingsWorth } from '../live-worth.ts';
import {
  dipped,
  type HiddenKit,
  portionMin,
  readyAtMin,
  standTo,
  tapHidden,
  thermometer,
  trueStand,
} from './hidden-kit.ts';
import type { Happening } from './strike.ts';

/** Stirring hard and reading again between portions [min]. */
const STIR_MIN = 0.75;
/** Three places, stirred [K]. */
const THREE_PLACES_K = 0.3;
/** Within this of the target the day goes on. @source field.md 3 */
const GO_K = 1;
/** A reading is taken for the forecast when it narrows it by this share. */
const WORTH = 0.1;
/** Two thermometers further apart than this do not agree [K]. */
const AGREE_K = 1.5;
/** Ways out of one miss that are tried before the day goes on. */
const MOST_MENDS = 2;
/** No return has more readings than this. */
const MOST_ROUNDS = 60;
/** A pot that gives less of what was asked is empty. */
const EMPTY_SHARE = 0.1;

/** What happened at one return. */
export interface PlayedReturn {
  readonly pull: number;
  readonly targetC: number;
  /** The mash, truly, when the last portion was in. */
  readonly returnedC: number;
  /** The same once what was done about a miss had been done. */
  readonly landedC: number;
  readonly atMin: number;
  readonly mends: readonly Repair[];
}

/** A fault as the brewer met it. */
export interface MetFault {
  readonly happening: Happening;
  readonly how: string;
}

/** A day that is over. */
export interface PlayedDay {
  readonly kit: HiddenKit;
  readonly entries: readonly DayEntry[];
  readonly returns: readonly PlayedReturn[];
  readonly met: readonly MetFault[];
  readonly finishMin: number;
}

/** What is wanted of a player. */
export interface PlayOptions {
  /** Minute the play begins at; moves before are over. */
  readonly fromMin?: number;
  /** Stop after this move. */
  readonly until?: string;
  /** Told what stands there before each pull, and each return. */
  readonly watch?: (
    at: 'pull' | 'return',
    group: PullGroup,
    kit: HiddenKit,
    tool: DaySession | undefined,
    nowMin: number,
  ) => void;
}

/**
 * Plays the moves that are left on a hidden kit.
 * @param kit the hidden kit
 * @param tool the running day that advises; left out: nobody reads, everything goes back
 * @param options from when, until which move
 * @returns the day played
 */
export function playDay(
  kit: HiddenKit,
  tool: DaySession | undefined,
  options: PlayOptions = {},
): PlayedDay {
  return new Player(kit, tool, options).play();
}

class Player {
  private kit: HiddenKit;
  private tool: DaySession | undefined;
  private now: number;
  private readonly options: PlayOptions;
  private readonly entries: DayEntry[] = [];
  private readonly returns: PlayedReturn[] = [];
  private readonly met: MetFault[] = [];
  private heard = 0;
  private readonly begun = new Set<string>();
  private readonly over = new Map<string, number>();
  /** The own thermometer was found wrong. */
  private other = false;

  constructor(kit: HiddenKit, tool: DaySession | undefined, options: PlayOptions) {
    this.kit = kit;
    this.tool = tool;
    this.options = options;
    this.now = options.fromMin ?? 0;
    for (const [id, at] of kit.session.finished) this.over.set(id, at);
    for (const id of kit.begunMin.keys()) this.begun.add(id);
  }

  play(): PlayedDay {
    const { until } = this.options;
    while (this.step(Number.POSITIVE_INFINITY, false)) if (until && this.over.has(until)) break;
    let finishMin = 0;
    for (const at of this.over.values()) finishMin = Math.max(finishMin, at);
    const { kit, entries, returns, met } = this;
    return { kit, entries, returns, met, finishMin };
  }

  /** The next thing that happens, if it does so until then. Carrying keeps hands from carrying more. */
  private step(toMin: number, carrying: boolean): boolean {
    const next = this.next(carrying);
    if (!next || next.atMin > toMin) return false;
    this.now = Math.max(this.now, next.atMin);
    if (next.what === 'notice') this.notice();
    else if (next.what === 'end') this.end(next.move);
    else if (isTransfer(next.move)) this.carry(next.move);
    else this.begin(next.move);
    return true;
  }

  private next(carrying: boolean) {
    type Next =
      | { readonly what: 'end' | 'begin'; readonly atMin: number; readonly move: Move }
      | { readonly what: 'notice'; readonly atMin: number };
    let first: Next | undefined;
    const offer = (next: Next) => {
      if (!first || next.atMin < first.atMin - 1e-9) first = next;
    };
    for (const s of this.kit.strikes)
      if (s.toMin !== undefined && !s.over) offer({ what: 'notice', atMin: s.toMin });
    const { moves } = this.kit.session;
    for (const move of moves) {
      if (this.over.has(move.id) || !this.begun.has(move.id) || isTransfer(move)) continue;
      const atMin = readyAtMin(this.kit, move.id);
      if (atMin !== undefined) offer({ what: 'end', atMin, move });
    }
    for (const [i, move] of moves.entries()) {
      if (this.over.has(move.id) || this.begun.has(move.id)) continue;
      if (carrying && isTransfer(move)) continue;
      const free = this.freeAt(move, moves.slice(0, i));
      if (free !== undefined) offer({ what: 'begin', atMin: Math.max(this.now, free), move });
    }
    return first;
  }

  /** When the vessels and hands of a move are free; undefined while something before holds them. */
  private freeAt(move: Move, before: readonly Move[]): number | undefined {
    let free = move.earliestMin ?? 0;
    const vessels = new Set(touchedBy(move));
    for (const b of before) {
      const shares =
        touchedBy(b).some((v) => vessels.has(v)) || b.hands.some((h) => move.hands.includes(h));
      if (!shares) continue;
      const over = this.over.get(b.id);
      if (over === undefined) return undefined;
      free = Math.max(free, over);
    }
    return free;
  }

  private tell(entry: DayEntry): void {
    this.entries.push(entry);
    this.kit = tapHidden(this.kit, entry);
    if (this.tool) this.tool = applyEntry(this.tool, entry);
    this.notice();
  }

  /** What can be seen of a fault is seen, told, and the vessel it is about is read. */
  private notice(): void {
    this.kit = standTo(this.kit, this.now);
    while (this.heard < this.kit.happenings.length) {
      const happening = this.kit.happenings[this.heard++] as Happening;
      let how = 'seen';
      if (this.tool && happening.tell) {
        const told = { ...happening.tell, atMin: this.now };
        this.entries.push(told);
        this.tool = applyEntry(this.tool, told);
        how = 'told to the running day';
      }
      if (this.tool && happening.vessel) {
        this.read(happening.vessel);
        how = happening.tell ? `${how}, read again` : 'read again';
      }
      this.met.push({ happening, how });
    }
  }

  private begin(move: Move): void {
    this.begun.add(move.id);
    this.tell({ kind: 'begun', moveId: move.id, atMin: this.now });
  }

  private end(move: Move): void {
    this.over.set(move.id, this.now);
    this.tell({ kind: 'done', moveId: move.id, atMin: this.now });
    if (move.kind === 'mash-in') this.read(move.vessel);
  }

  /** Everything that happens beside it until a minute, so that entries come in the order of time. */
  private until(minute: number): void {
    while (this.step(minute, true));
    this.now = Math.max(this.now, minute);
  }

  private carry(move: TransferMove): void {
    const group = this.groupOf(move);
    const returns = group?.landing.has(move.id) ?? false;
    if (group && move.kind === 'pull')
      this.options.watch?.('pull', group, this.kit, this.tool, this.now);
    if (returns && this.tool) {
      this.read(move.to);
      this.readWhatHelps(move);
    }
    if (group && returns) this.options.watch?.('return', group, this.kit, this.tool, this.now);
    this.begin(move);
    if (this.tool && move.kind !== 'pull' && (returns || move.id.startsWith('kept')))
      this.returnByGuide(move);
    else {
      const ready = readyAtMin(this.kit, move.id);
      this.until(ready ?? this.now);
    }
    this.over.set(move.id, this.now);
    this.tell({ kind: 'done', moveId: move.id, atMin: this.now });
    if (this.tool && move.kind === 'pull') this.read(move.to, 1);
    if (group && move.id === group.final.id) this.landed(group);
  }

  private groupOf(move: TransferMove): PullGroup | undefined {
    const index = this.kit.session.moves.indexOf(move);
    return this.kit.session.pulls.find((g) => index >= g.first && index <= g.last);
  }

  private readWhatHelps(move: TransferMove): void {
    const [best] = readingsWorth(this.tool as DaySession, this.now);
    if (!best || best.narrowing < WORTH || best.vessel === move.to) return;
    if (best.what === 'temp') this.read(best.vessel);
    else
      this.tell({
        kind: 'reading',
        reading: {
          vessel: best.vessel,
          what: 'volume',
          value: dipped(this.kit, best.vessel, this.now),
          atMin: this.now,
          sd: Math.max(0.1, 0.03 * trueStand(this.kit, best.vessel, this.now).volumeL),
        },
      });
  }

  /** Ladle by ladle as the guide says, stirring and reading between. */
  private returnByGuide(move: TransferMove): void {
    const per = portionMin(this.kit, move);
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const guide = guideReturn(this.tool as DaySession, { moveId: move.id, nowMin: this.now });
      if (guide.action === 'stop') return;
      if (guide.action === 'add') {
        const portions = guide.morePortions;
        this.until(this.now + portions * portionMin(this.kit, move));
        const before = trueStand(this.kit, move.from, this.now).volumeL;
        this.tell({ kind: 'portions', moveId: move.id, atMin: this.now, portions });
        const gave = before - trueStand(this.kit, move.from, this.now).volumeL;
        const portionL = this.kit.session.stepper.routeOf(move).portionL;
        if (gave < EMPTY_SHARE * portions * portionL) return;
      }
      this.until(this.now + Math.min(STIR_MIN, per));
      this.read(move.to);
    }
  }

  private landed(group: PullGroup): void {
    const tun = group.final.to;
    const returnedC = trueStand(this.kit, tun, this.now).tempC;
    const mends: Repair[] = [];
    while (this.tool && mends.length < MOST_MENDS) {
      this.until(this.now + STIR_MIN);
      this.read(tun);
      const stands = vesselsNow(this.tool, this.now).find((v) => v.vessel === tun);
      if (!stands || Math.abs(stands.tempC.likely - group.targetC) <= GO_K) break;
      const tried = new Set(mends.map((m) => m.code));
      const repair = repairsFor(this.tool, this.now, group.targetC).find(
        (r) => r.possible && !tried.has(r.code),
      );
      if (!repair || repair.code === 'accept' || repair.code === 'hold-back') break;
      this.mend(repair, group.targetC);
      mends.push(repair);
    }
    const landedC = trueStand(this.kit, tun, this.now).tempC;
    this.returns.push({
      pull: group.pull,
      targetC: group.targetC,
      returnedC,
      landedC,
      atMin: this.now,
      mends,
    });
  }

  private mend(repair: Repair, targetC: number): void {
    this.until(this.now + repair.minutes);
    this.tell({
      kind: 'mend',
      code: repair.code,
      atMin: this.now,
      minutes: repair.minutes,
      targetC,
      ...(repair.amountL === undefined ? {} : { amountL: repair.amountL }),
    });
  }

  /** A careful reading; one that cannot be is looked at with the second thermometer. */
  private read(vessel: string, sd = THREE_PLACES_K): void {
    if (!this.tool) return;
    const shown = thermometer(this.kit, vessel, this.now, sd, this.other);
    const reading = { vessel, what: 'temp', value: shown, atMin: this.now, sd } as const;
    const asked = this.tool.questioned.length;
    this.tell({ kind: 'reading', reading });
    if (this.tool.questioned.length === asked) return;
    const second = thermometer(this.kit, vessel, this.now, sd, true);
    const agree = Math.abs(second - shown) <= AGREE_K;
    if (!agree && !this.other) this.foundWrong();
    this.tell({
      kind: 'reading',
      reading: agree ? reading : { ...reading, value: second },
      confirmed: true,
    });
  }

  private foundWrong(): void {
    this.other = true;
    const fault = this.kit.strikes.find((s) => s.fault.name === 'wrong-thermometer')?.fault;
    if (!fault) return;
    const text = 'The tun thermometer and the second one do not agree';
    this.met.push({
      happening: { fault, atMin: this.now, text },
      how: 'questioned by the running day, read with the second one from then on',
    });
  }
}
