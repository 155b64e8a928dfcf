/** The rest of the day in two parts: the raise that is going on, and those still to be sized. */
import { type Move, simulate } from '@ladlework/brewhouse';
import { type BrewDay, brewDay, dayOptions } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { leftOf } from '../live-forecast.ts';
import type { DaySession } from '../live-session.ts';
import { meanParticle, type Particle, vesselIn } from '../live-step.ts';
import { sizeRaise } from '../stages.ts';
import { goneThings } from './kit-left.ts';

/** Number of the raise a move belongs to, from its id: `boil-2a` is of the second. */
const NUMBER = /-(\d+)[a-h]?$/;
/** A vessel with less grist than this holds no pull [kg]. */
const NO_PULL_KG = 0.05;

/** Raise a move belongs to, the rest after it included; 0: before the first. */
export function raiseOf(move: Move): number | undefined {
  const n = NUMBER.exec(move.id)?.[1];
  if (n === undefined) return undefined;
  return move.id.startsWith('rest-') && !move.id.startsWith('rest-on-') ? Number(n) - 1 : Number(n);
}

/** Where a day stands for mending it. */
export interface Standing {
  /** Brought to now, without kinetics. */
  readonly now: DaySession;
  readonly middle: Particle;
  /** The raise begun last; 0: none yet. */
  readonly begun: number;
  /** Its pull, or its heat, has not landed yet. */
  readonly open: boolean;
  /** What is left of it, and of the rest after it. */
  readonly current: readonly Move[];
  /** Rest the tun is in, or is to land at when a raise is going on [°C]. */
  readonly restC: number;
  readonly targetC: number;
  /** Vessels beside the tun that hold mash. */
  readonly pots: readonly string[];
  readonly gone: ReadonlySet<string>;
}

/**
 * @param now a session brought to now
 */
export function standingOf(now: DaySession): Standing {
  const isRest = (m: Move) => m.id.startsWith('rest-') && !m.id.startsWith('rest-on-');
  const touched = (m: Move) => now.finished.has(m.id) || now.underway.has(m.id);
  const begun = now.moves
    .filter((m) => !isRest(m) && touched(m))
    .reduce((n, m) => Math.max(n, raiseOf(m) ?? 0), 0);
  const { rests } = now.document.mash;
  const last = now.moves.findLast((m) => raiseOf(m) === begun && LANDS.has(m.kind) && !isKept(m));
  const open = begun > 0 && last !== undefined && !now.finished.has(last.id);
  const rest = open ? begun - 1 : begun;
  const restC = rests[rest]?.tempC ?? now.day.boilC;
  const middle = meanParticle(now.particles);
  return {
    now,
    middle,
    begun,
    open,
    current: leftOf(now, now.moves).filter((m) => (raiseOf(m) ?? begun) <= begun),
    restC,
    targetC: open ? (rests[begun]?.tempC ?? restC) : restC,
    pots: now.day.kit.vessels.flatMap(({ id }) => {
      const s = vesselIn(middle, id);
      const holds = id !== now.day.restTun.id && id !== now.day.tun.id;
      return holds && s.solidsKg + s.extractKg > NO_PULL_KG ? [id] : [];
    }),
    gone: goneThings(now),
  };
}

const LANDS: ReadonlySet<Move['kind']> = new Set(['return', 'pour', 'heat']);
const isKept = (m: Move) => m.id.startsWith('kept-');

/** The day as it is with what is out left out: burners, and hands that went home. */
export function dayLeft(standing: Standing, document: PlanDocument): BrewDay {
  const { gone, now } = standing;
  const whole = brewDay(document);
  // Pots keep back and burners give what the troubles of the session say; added routes stay.
  const own = new Map(now.day.kit.vessels.map((v) => [v.id, v]));
  const burns = new Map(now.day.kit.burners.map((b) => [b.id, b]));
  const hands = whole.hands.filter((h) => !gone.has(h));
  return {
    ...whole,
    hands: hands.length > 0 ? hands : whole.hands,
    liquorBurner:
      whole.liquorBurner && !gone.has(whole.liquorBurner.id)
        ? whole.liquorBurner
        : whole.kit.burners.find((b) => !gone.has(b.id) && b.heats.includes(whole.liquorVessel.id)),
    kit: {
      ...whole.kit,
      vessels: whole.kit.vessels.map((v) => own.get(v.id) ?? v),
      burners: whole.kit.burners.filter((b) => !gone.has(b.id)).map((b) => burns.get(b.id) ?? b),
    },
  };
}

/**
 * Moves from here to the end of the mash: those given first, then every later raise of the document
 * sized from what then stands there.
 * @throws UnknownName when a later pull has no burner left
 */
export function restOfDay(
  standing: Standing,
  day: BrewDay,
  first: readonly Move[],
): { readonly moves: readonly Move[]; readonly reached: boolean } {
  const { middle, now, begun } = standing;
  const options = dayOptions(day, middle.draw);
  const moves: Move[] = [...first];
  let situation = simulate(day.kit, middle.situation, first, options).end;
  let reached = true;
  for (let index = begun; index < day.document.mash.raises.length; index++) {
    const sized = sizeRaise(day, index, situation, middle.draw);
    reached &&= sized.reached;
    const own = [...sized.moves, ...sized.after].map((m) => ({
      ...m,
      earliestMin: Math.max(now.lastMin, m.earliestMin ?? 0),
    }));
    moves.push(...own);
    situation = simulate(day.kit, situation, own, options).end;
  }
  return { moves, reached };
}
