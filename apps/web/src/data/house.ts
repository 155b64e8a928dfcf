/**
 * What this device knows: the log in memory, and every state folded from it. A tap is written to
 * disk first, then shown, then sent.
 */

import type { Kit } from '@ladlework/brewhouse';
import {
  type BrewState,
  foldBeers,
  foldBrew,
  foldBrews,
  foldKits,
  type LogEvent,
  mergeEvents,
  streamName,
} from '@ladlework/log';
import type { Beer, Day, Mash } from '@ladlework/planner';
import { batch, computed, signal } from '@preact/signals';
import { who } from '../shell/settings.ts';
import { refusalOf } from './access.ts';
import { type Base, type NewEvent, openBase } from './base.ts';
import { stamp } from './clock.ts';

/** Whether taps survive a flat battery on this device. */
export const storage = signal<
  { readonly state: 'opening' | 'kept' } | { readonly state: 'broken'; readonly why: string }
>({ state: 'opening' });

export const events = signal<readonly LogEvent[]>([]);
export const waiting = signal<ReadonlySet<string>>(new Set());
/** Events the server refused for good, with its reason. */
export const refusals = signal<readonly { readonly id: string; readonly reason: string }[]>([]);

// The log knows kits, beers and mashes by name only; their shape was checked where they came in.
export const kits = computed(() =>
  foldKits(events.value)
    .filter((k) => !k.retired)
    .map((k) => k.item as Kit),
);

/** A beer as the brewer keeps it: what is in it, and how it is mashed. */
export interface BeerSheet {
  readonly beer: Beer;
  readonly mash: Mash | undefined;
  /** The day and kit it was written for, when it came with them. */
  readonly day?: Day;
  readonly kitId?: string;
}

export const beers = computed((): BeerSheet[] =>
  foldBeers(events.value)
    .filter((b) => !b.retired)
    .map((b) => ({
      beer: b.item as Beer,
      mash: b.mash as Mash | undefined,
      ...(b.day === undefined ? {} : { day: b.day as Day }),
      ...(b.kitId === undefined ? {} : { kitId: b.kitId }),
    })),
);
export const brews = computed(() => foldBrews(events.value));

/** The brew with its log, newest state; nothing when the log knows no such brew. */
export function brewById(id: string): BrewState | undefined {
  const stream = streamName('brew', id);
  return events.value.some((e) => e.stream === stream) ? foldBrew(events.value, id) : undefined;
}

/** Made once per device; empty until the store is open. */
export const deviceId = signal('');

let base: Base | undefined;
let onAppend: () => void = () => {};

/** Called after each tap, so that sending starts at once. */
export function whenAppended(run: () => void): void {
  onAppend = run;
}

/** Opens the device's store and reads the log into memory. */
export async function openHouse(): Promise<Base | undefined> {
  try {
    base = await openBase();
    const [all, ids, refused] = await Promise.all([base.all(), base.waiting(), base.refusals()]);
    batch(() => {
      events.value = mergeEvents(all);
      waiting.value = new Set(ids);
      refusals.value = refused;
      deviceId.value = base?.device ?? '';
      storage.value = { state: 'kept' };
    });
  } catch (error) {
    storage.value = { state: 'broken', why: reasonOf(error) };
  }
  return base;
}

/** What a tap knows of an event it writes. */
export type EventFacts = NewEvent extends infer E
  ? E extends NewEvent
    ? Omit<E, 'readAtMs' | 'enteredAtMs' | 'who' | 'clock'> & { readonly readAtMs?: number }
    : never
  : never;

/**
 * Writes what one tap says through to this device's disk and shows it: all of it, or nothing.
 *
 * @returns the events as kept; rejects when the device keeps nothing or may not write this, so that
 *   the page can say so
 */
export async function record(...facts: readonly EventFacts[]): Promise<LogEvent[]> {
  if (base === undefined) {
    const why = storage.value.state === 'broken' ? storage.value.why : 'its store is not open yet';
    throw new Error(`This device cannot keep entries: ${why}`);
  }
  const refusal = facts.map((fact) => refusalOf(fact.type)).find((why) => why !== undefined);
  if (refusal !== undefined) throw new Error(refusal);
  const { atMs, clock } = stamp();
  const kept = await base.append(
    facts.map(
      (fact) =>
        ({
          ...fact,
          readAtMs: fact.readAtMs ?? atMs,
          enteredAtMs: atMs,
          who: who.value,
          clock,
        }) as NewEvent,
    ),
  );
  batch(() => {
    events.value = mergeEvents(events.value, kept);
    waiting.value = new Set([...waiting.value, ...kept.map((event) => event.id)]);
  });
  onAppend();
  return kept;
}

/** Takes events that came from the server: on disk first, then on the page. */
export async function takeFromServer(
  incoming: readonly LogEvent[],
  sequence?: number,
): Promise<void> {
  await base?.take(incoming, sequence);
  events.value = mergeEvents(events.value, incoming);
}

/** The server holds these now. */
export async function acknowledged(ids: readonly string[]): Promise<void> {
  await base?.acknowledge(ids);
  const left = new Set(waiting.value);
  for (const id of ids) left.delete(id);
  waiting.value = left;
}

/** The server will never take this one; it stays here, is shown, and is not sent again. */
export async function refused(id: string, reason: string): Promise<void> {
  await base?.refuse(id, reason);
  const left = new Set(waiting.value);
  left.delete(id);
  batch(() => {
    waiting.value = left;
    refusals.value = [...refusals.value, { id, reason }];
  });
}

/** Newest place in the server's stream that this device has. */
export async function sequenceKnown(): Promise<number> {
  return (await base?.sequence()) ?? 0;
}

export const reasonOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);
