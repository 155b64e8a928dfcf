import type { LogEvent } from './event.ts';

const byCode = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/**
 * The one order of the log: when it was true at the vessel, then device, then the device's counter.
 * The id decides between events of a device that lost count.
 *
 * @returns negative when `a` comes first, positive when `b` does, 0 for one and the same id
 */
export function compareEvents(a: LogEvent, b: LogEvent): number {
  return (
    a.readAtMs - b.readAtMs ||
    byCode(a.device, b.device) ||
    a.counter - b.counter ||
    byCode(a.id, b.id)
  );
}

/**
 * JSON with keys in order, so that equal content gives equal text wherever it was made.
 *
 * @throws TypeError for what is not JSON (a bug: events are parsed at the edge)
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') {
    return JSON.stringify(value);
  }
  if (typeof value === 'number' && Number.isFinite(value)) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object') {
    const entries = Object.entries(value)
      .filter(([, v]) => v !== undefined)
      .sort(([a], [b]) => byCode(a, b))
      .map(([k, v]) => `${JSON.stringify(k)}:${canonicalJson(v)}`);
    return `{${entries.join(',')}}`;
  }
  throw new TypeError(`not JSON: ${typeof value}`);
}

/** True when two events say the same, whatever the order of their keys. */
export function sameContent(a: LogEvent, b: LogEvent): boolean {
  return canonicalJson(a) === canonicalJson(b);
}

/**
 * The union of several logs, each event once, in order.
 *
 * Two events with one id and different content cannot both be kept; a store refuses the second. A
 * page that meets them before the store has spoken keeps the one whose text sorts first, so that
 * every page keeps the same one.
 */
export function mergeEvents(...logs: readonly (readonly LogEvent[])[]): LogEvent[] {
  const byId = new Map<string, LogEvent>();
  for (const log of logs) {
    for (const event of log) {
      const known = byId.get(event.id);
      if (known === undefined || known === event) byId.set(event.id, event);
      else if (canonicalJson(event) < canonicalJson(known)) byId.set(event.id, event);
    }
  }
  return [...byId.values()].sort(compareEvents);
}
