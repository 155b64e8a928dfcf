import * as v from 'valibot';
import { few, sheet } from './fields.ts';

/** Most events in one request. A tablet back from a day offline sends several. */
export const MOST_EVENTS = 500;

/** Each event is checked by itself, so that a bad one does not hold up the others. */
export const AppendBody = sheet({
  events: few(
    v.pipe(v.unknown(), v.metadata({ $ref: '#/components/schemas/Event' })),
    1,
    MOST_EVENTS,
  ),
});
