/** What the page knows about its server, and how it is said. Pure; sync.ts feeds it. */

export type Network =
  | { readonly state: 'asking' }
  | { readonly state: 'here'; readonly sinceMs: number }
  | { readonly state: 'gone'; readonly sinceMs: number };

/** An answer or a silence moves the state; the first silence sets the time. */
export function heard(before: Network, answered: boolean, nowMs: number): Network {
  if (answered) return before.state === 'here' ? before : { state: 'here', sinceMs: nowMs };
  return before.state === 'gone' ? before : { state: 'gone', sinceMs: nowMs };
}

/**
 * The line under the headings.
 *
 * @param network as known
 * @param waiting events kept here and not yet acknowledged
 * @param clock writes an instant as a time of day
 * @example "no network since 07:52, 14 entries kept here"
 */
export function networkText(
  network: Network,
  waiting: number,
  clock: (ms: number) => string,
): string {
  const entries = waiting === 1 ? '1 entry' : `${waiting} entries`;
  if (network.state === 'gone') {
    const keeps = waiting === 0 ? 'nothing waits to be sent' : `${entries} kept here`;
    return `no network since ${clock(network.sinceMs)}, ${keeps}`;
  }
  if (network.state === 'asking') {
    return waiting === 0 ? 'looking for the brewhouse server' : `${entries} kept here, sending`;
  }
  return waiting === 0 ? 'everything is on the server' : `${entries} kept here, sending`;
}

/**
 * The same line for a device that the server does not let in.
 *
 * @example "not paired with this brewhouse, 3 entries kept here"
 */
export function shutOutText(waiting: number): string {
  const entries = waiting === 1 ? '1 entry' : `${waiting} entries`;
  const keeps = waiting === 0 ? 'what it knew is still here' : `${entries} kept here`;
  return `not paired with this brewhouse, ${keeps}`;
}

/**
 * How long to wait before asking again.
 *
 * @param failures silences in a row, from 1
 * @param random a number in [0, 1), so that two tablets do not ask in step
 * @returns wait [ms]: 0.5 s doubling to 30 s, a quarter of it random
 */
export function waitMs(failures: number, random: number): number {
  const base = Math.min(30_000, 500 * 2 ** Math.max(0, failures - 1));
  return Math.round(base * (0.75 + 0.25 * random));
}
