/** A planned day that begins at another hour: what has its own hour keeps it. */
import type { PlanDocument } from '../document.ts';

/**
 * The same brew with minute 0 at another clock time.
 * @param document as it was planned
 * @param startMin clock time at which the day really began [min after midnight]
 * @returns deliveries, breaks, limits and the hours of people at their clock times; what is over
 *   before the day began is left out
 */
export function dayFrom(document: PlanDocument, startMin: number): PlanDocument {
  const by = startMin - document.day.startMin;
  if (by === 0) return document;
  const { events, breaks, finishByMin, wishFinishMin, ...rest } = document.day;
  const later = (minute: number) => minute - by;
  return {
    ...document,
    kit: {
      ...document.kit,
      hands: document.kit.hands.map(({ fromMin, untilMin, ...hand }) => ({
        ...hand,
        ...(fromMin === undefined ? {} : { fromMin: Math.max(0, later(fromMin)) }),
        ...(untilMin === undefined ? {} : { untilMin: Math.max(0, later(untilMin)) }),
      })),
    },
    day: {
      ...rest,
      startMin,
      ...(events && {
        events: events.map((e) => ({ ...e, atMin: later(e.atMin) })).filter((e) => e.atMin >= 0),
      }),
      ...(breaks && {
        breaks: breaks
          .map((b) => ({
            ...b,
            fromMin: Math.max(0, later(b.fromMin)),
            untilMin: later(b.untilMin),
          }))
          .filter((b) => b.untilMin - b.fromMin >= b.minutes),
      }),
      ...(finishByMin === undefined ? {} : { finishByMin: later(finishByMin) }),
      ...(wishFinishMin === undefined ? {} : { wishFinishMin: later(wishFinishMin) }),
    },
  };
}
