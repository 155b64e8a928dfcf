/** Names by which one event speaks about another where it has no field of its own for that. */

/** Code of the `gate-confirmed` event that says: this reading is true, far out as it lies. */
export function readingGate(eventId: string): string {
  return `reading.${eventId}`;
}

/** Move id under which the doing of a repair is logged; `eventId` is its `miss-mended` event. */
export function mendMoveId(eventId: string): string {
  return `mend.${eventId}`;
}

/** Code of the gate by which the brewer says whose value of two counts. */
export function choiceGate(eventId: string): string {
  return `counts.${eventId}`;
}

/** The event a choice is for; undefined for another gate. */
export function chosenBy(code: string): string | undefined {
  return code.startsWith('counts.') ? code.slice('counts.'.length) : undefined;
}
