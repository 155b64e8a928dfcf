/** Names by which one event speaks about another where it has no field of its own for that. */

/** Code of the `gate-confirmed` event that says: this reading is true, far out as it lies. */
export function readingGate(eventId: string): string {
  return `reading.${eventId}`;
}

/** Move id under which the doing of a repair is logged; `eventId` is its `miss-mended` event. */
export function mendMoveId(eventId: string): string {
  return `mend.${eventId}`;
}
