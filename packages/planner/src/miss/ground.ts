/** What every way out of a miss stands on: the day as it is, what is out, and moves put together. */
import type { Move } from '@ladlework/brewhouse';
import { type BrewDay, burnerFor } from '../day.ts';
import type { PlanDocument, Raise } from '../document.ts';
import { thermalIn } from '../live-assimilate.ts';
import type { DaySession } from '../live-session.ts';
import { isTransfer, Stepper } from '../live-step.ts';
import type { Miss } from './miss-types.ts';
import { dayLeft, restOfDay, type Standing } from './rest-of-day.ts';

/** A way as moves. */
export interface Built {
  readonly text: string;
  /** From now to the end of the mash. */
  readonly moves: readonly Move[];
  readonly document: PlanDocument;
  /** The day it is played on: what is out is not among its burners and hands. */
  readonly day: BrewDay;
  readonly ends: readonly string[];
  /** Changed lengths of moves under way [min]. */
  readonly stretched: ReadonlyMap<string, number>;
}

/** Why a way cannot be gone. */
export interface Refused {
  readonly text: string;
  readonly whyNot: string;
}

export interface WayExtras {
  /** Rest that clears the starch, and malt of a side mash, as reckoned from the kinetics. */
  readonly clearMin?: number;
  readonly sideMaltKg?: number;
  readonly sideText?: string;
}

/** Where a way is built. */
export class Ground {
  /** What the way is called as far as it has come, for a refusal from further down. */
  named = '';
  readonly s: Standing;
  readonly miss: Miss;
  readonly extras: WayExtras;

  constructor(standing: Standing, miss: Miss, extras: WayExtras) {
    this.s = standing;
    this.miss = miss;
    this.extras = extras;
  }

  get document(): PlanDocument {
    const { gone, now } = this.s;
    const { day, kit } = now.document;
    const hands = (day.hands ?? kit.hands.map((h) => h.id)).filter((h) => !gone.has(h));
    const changed = hands.length > 0 && kit.hands.some((h) => gone.has(h.id));
    return changed ? { ...now.document, day: { ...day, hands } } : now.document;
  }

  /** First moves, then whatever is left of the raise, then the later raises sized again. */
  assemble(
    text: string,
    first: readonly Move[],
    more: {
      readonly document?: PlanDocument;
      readonly current?: readonly Move[];
      readonly ends?: readonly string[];
      readonly stretched?: ReadonlyMap<string, number>;
    } = {},
  ): Built | Refused {
    this.named = text;
    const { document, day, turned } = this.boilable(more.document ?? this.document);
    const current = (more.current ?? this.s.current).map((m) => this.withHands(m, day));
    const broken = this.brokenIn([...first, ...current], day);
    if (broken !== undefined) return { text, whyNot: broken };
    const ready = this.fromNow(first).map((m) => this.withHands(m, day));
    const { moves, reached } = restOfDay(this.s, day, [...ready, ...current]);
    const late = this.brokenIn(moves, day);
    if (late !== undefined) return { text, whyNot: late };
    if (!reached) return { text, whyNot: 'a later rest would not be reached' };
    return {
      text: turned === undefined ? text : `${text}; later raises by ${turned}`,
      moves,
      document,
      day,
      ends: more.ends ?? [],
      stretched: more.stretched ?? new Map(),
    };
  }

  /** Later pulls that no burner boils any more become heat on the tun, or boiling liquor. */
  private boilable(document: PlanDocument): {
    readonly document: PlanDocument;
    readonly day: BrewDay;
    readonly turned?: string;
  } {
    const day = dayLeft(this.s, document);
    const { raises } = document.mash;
    const dead = (r: Raise, i: number) =>
      i >= this.s.begun && r.by === 'decoction' && !r.pots.every((p) => burnerFor(day.kit, p));
    if (!raises.some(dead)) return { document, day };
    const by: Raise | undefined = burnerFor(day.kit, day.restTun.id)
      ? { by: 'direct-heat' }
      : day.liquorBurner && { by: 'liquor' };
    if (by === undefined) return { document, day };
    const mash = { ...document.mash, raises: raises.map((r, i) => (dead(r, i) ? by : r)) };
    const changed = { ...document, mash };
    const turned = by.by === 'liquor' ? 'boiling liquor' : 'direct heat';
    return { document: changed, day: dayLeft(this.s, changed), turned };
  }

  private fromNow(moves: readonly Move[]): Move[] {
    const { lastMin } = this.s.now;
    return moves.map((m) => ({ ...m, earliestMin: Math.max(lastMin, m.earliestMin ?? 0) }));
  }

  /** Hands that went home are not asked for. */
  private withHands(move: Move, day: BrewDay): Move {
    if (move.hands.every((h) => day.hands.includes(h))) return move;
    const left = move.hands.filter((h) => day.hands.includes(h));
    return { ...move, hands: left.length > 0 ? left : day.hands.slice(0, 1) };
  }

  /** What a list of moves needs that is out. */
  private brokenIn(moves: readonly Move[], day: BrewDay): string | undefined {
    const { gone } = this.s;
    for (const m of moves) {
      if (isTransfer(m) && gone.has(m.route))
        return `${this.nameOf(m.route)} is out, and ${noteOf(m)} needs it`;
      if ('burner' in m && !day.kit.burners.some((b) => b.id === m.burner))
        return `${this.nameOf(m.burner)} is out, and ${noteOf(m)} needs it`;
    }
    return undefined;
  }

  private nameOf(id: string): string {
    const { kit } = this.s.now.document;
    return [...kit.burners, ...kit.routes, ...kit.hands].find((x) => x.id === id)?.name ?? id;
  }

  /** Ids stay apart when a day is mended twice. */
  idFor(id: string): string {
    const taken = new Set(this.s.now.moves.map((m) => m.id));
    let own = id.replace(/-(\d+)$/, '_$1');
    for (let n = 1; taken.has(own); n++) own = `${id}_${n}`;
    return own;
  }

  thermal(vessel: string) {
    return thermalIn(this.s.now.day, vessel, this.s.middle.draw);
  }

  /** The session on the kit as far as it works. */
  sessionLeft(): DaySession {
    const day = dayLeft(this.s, this.document);
    return { ...this.s.now, particles: [this.s.middle], day, stepper: new Stepper(day) };
  }
}

/** What a move is called in a sentence. */
export const noteOf = (m: Move): string => (m.note ?? NOTE[m.kind]).toLowerCase();

const NOTE: Readonly<Record<Move['kind'], string>> = {
  fill: 'Liquor in',
  heat: 'Heat',
  hold: 'Hold',
  boil: 'Boil',
  preheat: 'Preheat',
  'mash-in': 'Mash in',
  rest: 'Rest',
  pull: 'Pull',
  return: 'Return',
  pour: 'Pour',
  rinse: 'Rinse',
  wait: 'Stir and wait',
};
