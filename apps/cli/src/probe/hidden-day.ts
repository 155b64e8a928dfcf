/** A brew file's day on a kit that nobody knows: what a probe hanging there would be in. */
import { simulate } from '@ladlework/brewhouse';
import {
  brewDay,
  curveAt,
  dayOptions,
  drawsFor,
  openingSituation,
  type PlanDocument,
  planDay,
} from '@ladlework/planner';

export interface HiddenDay {
  readonly endMin: number;
  /** Temperature in a vessel [°C] at a minute of the day. */
  tempC(vessel: string, minute: number): number;
}

/** Kits drawn; the seed picks one of them. */
const KITS = 64;

/**
 * Plays the planned moves on one kit of the ensemble.
 *
 * @param document kit, beer, mash, day
 * @param seed 0: the likely kit; else which hidden one
 * @throws UnknownName when the document names what its kit does not have
 */
export function hiddenDay(document: PlanDocument, seed: number): HiddenDay {
  const day = brewDay(document);
  const moves = planDay(document, { draws: 50 }).moves.map((m) => m.move);
  const draw = seed === 0 ? undefined : drawsFor(day.kit, KITS, seed)[seed % KITS];
  const trace = simulate(day.kit, openingSituation(day), moves, {
    ...dayOptions(day, draw),
    curves: true,
  });
  return {
    endMin: Math.max(...trace.moves.map((m) => m.endMin)),
    tempC: (vessel, minute) => {
      const curve = trace.curves.find((c) => c.vessel === vessel);
      return curveAt(curve?.timeMin ?? [], curve?.tempC ?? [], minute);
    },
  };
}
