/** Whether an event may be written by whoever sends it. */
import { type FieldError, mayWrite, type Role } from '@ladlework/contract';
import type { LogEvent } from '@ladlework/log';
import type { EventStore } from '@ladlework/store';

/**
 * @param event checked for shape and truth
 * @param beside events that came with it: a tablet back from a day offline sends both at once
 * @param store where else the event that a mend names is looked for
 * @returns why not; empty when it may
 */
export async function roleErrors(
  role: Role,
  event: LogEvent,
  beside: readonly LogEvent[],
  store: EventStore,
): Promise<FieldError[]> {
  const may = mayWrite(role, event.type);
  if (may === true) return [];
  if (may === 'own' && (await mendsOwn(role, event, beside, store))) return [];
  const allowed = role === 'viewer' ? 'nothing' : 'readings and taps of the day';
  const whose = may === 'own' ? 'what another tablet wrote is mended' : `${event.type} is written`;
  return [
    {
      code: 'not-allowed',
      field: 'type',
      value: event.type,
      allowed,
      message: `type: ${whose} by a brewer’s device only; this one is paired as a ${role} and may write ${allowed}.`,
    },
  ];
}

/** Whether what a mend names was written by the same tablet and is the role's to write. */
async function mendsOwn(
  role: Role,
  mend: LogEvent,
  beside: readonly LogEvent[],
  store: EventStore,
): Promise<boolean> {
  const stored = await store.since(0, { stream: mend.stream });
  // What is in the log stands; nothing that is sent now can pass itself off for it.
  const known = [...beside, ...stored.map(({ event }) => event)];
  const byId = new Map(known.map((event) => [event.id, event]));
  let at: LogEvent = mend;
  // A mend may name a mend; the chain is followed to the original, and is as short as patience.
  for (let n = 0; n < 100; n += 1) {
    const target = byId.get(at.corrects ?? '');
    if (target === undefined || target.device !== mend.device) return false;
    if (target.type !== 'corrected' && target.type !== 'withdrawn') {
      return mayWrite(role, target.type) === true;
    }
    at = target;
  }
  return false;
}
