import type { LogEvent } from '@ladlework/log';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

interface Schema extends DBSchema {
  /** Every event this device knows. */
  events: { key: string; value: LogEvent };
  /** Ids of events the server has not acknowledged. */
  outbox: { key: string; value: { id: string; counter: number } };
  /** Events the server refused for good, with its reason; shown, never dropped. */
  refused: { key: string; value: { id: string; reason: string } };
  meta: { key: string; value: string | number };
}

/** What the caller knows of an event; the device fills in the rest. */
export type NewEvent = LogEvent extends infer E
  ? E extends LogEvent
    ? Omit<E, 'id' | 'device' | 'counter'>
    : never
  : never;

/** What this device keeps. */
export interface Base {
  readonly device: string;
  /** Everything known, any order. */
  all(): Promise<LogEvent[]>;
  /** Ids waiting to be acknowledged. */
  waiting(): Promise<string[]>;
  refusals(): Promise<{ id: string; reason: string }[]>;
  /** Writes new events through to disk with the next counters: all of them, or none. */
  append(events: readonly NewEvent[]): Promise<LogEvent[]>;
  /** Adds events that came from the server. */
  take(events: readonly LogEvent[], sequence?: number): Promise<void>;
  /** Marks events as held by the server. */
  acknowledge(ids: readonly string[]): Promise<void>;
  /** Marks an event as refused by the server. */
  refuse(id: string, reason: string): Promise<void>;
  /** Newest sequence seen in the server's stream. */
  sequence(): Promise<number>;
}

/** 32 hex digits from the device's own source of chance; works without a secure context. */
export function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, '0')).join('');
}

/** Opens the device's store; rejects when the browser keeps nothing. */
export async function openBase(name = 'ladlework'): Promise<Base> {
  const db = await openDB<Schema>(name, 1, {
    upgrade(fresh) {
      fresh.createObjectStore('events', { keyPath: 'id' });
      fresh.createObjectStore('outbox', { keyPath: 'id' });
      fresh.createObjectStore('refused', { keyPath: 'id' });
      fresh.createObjectStore('meta');
    },
  });
  const device = await ownDevice(db);
  return {
    device,
    all: () => db.getAll('events'),
    waiting: async () => {
      const rows = await db.getAll('outbox');
      return rows.sort((a, b) => a.counter - b.counter).map((row) => row.id);
    },
    refusals: () => db.getAll('refused'),
    append: (events) => append(db, device, events),
    take: (events, sequence) => take(db, events, sequence),
    acknowledge: async (ids) => {
      const tx = db.transaction('outbox', 'readwrite', { durability: 'strict' });
      await Promise.all([...ids.map((id) => tx.store.delete(id)), tx.done]);
    },
    refuse: async (id, reason) => {
      const tx = db.transaction(['outbox', 'refused'], 'readwrite', { durability: 'strict' });
      await Promise.all([
        tx.objectStore('outbox').delete(id),
        tx.objectStore('refused').put({ id, reason }),
        tx.done,
      ]);
    },
    sequence: async () => Number((await db.get('meta', 'sequence')) ?? 0),
  };
}

async function ownDevice(db: IDBPDatabase<Schema>): Promise<string> {
  const tx = db.transaction('meta', 'readwrite', { durability: 'strict' });
  const known = await tx.store.get('device');
  const device = typeof known === 'string' ? known : freshId();
  if (device !== known) await tx.store.put(device, 'device');
  await tx.done;
  return device;
}

/**
 * Counters and events in one transaction: two tabs of one tablet can never use a counter twice, and
 * a tap that writes several events is never half kept.
 */
async function append(
  db: IDBPDatabase<Schema>,
  device: string,
  events: readonly NewEvent[],
): Promise<LogEvent[]> {
  const tx = db.transaction(['events', 'outbox', 'meta'], 'readwrite', { durability: 'strict' });
  const writes: Promise<unknown>[] = [];
  try {
    const last = Number((await tx.objectStore('meta').get('counter')) ?? 0);
    const whole = events.map((event, i) => {
      return { ...event, id: freshId(), device, counter: last + i + 1 } as LogEvent;
    });
    writes.push(tx.objectStore('meta').put(last + whole.length, 'counter'));
    for (const event of whole) {
      writes.push(tx.objectStore('events').put(event));
      writes.push(tx.objectStore('outbox').put({ id: event.id, counter: event.counter }));
    }
    await Promise.all([...writes, tx.done]);
    return whole;
  } catch (error) {
    // A write that is refused outright ends nothing by itself: what came before it would stay.
    await abandon(tx);
    await Promise.allSettled(writes);
    throw error;
  }
}

/** Undoes what a transaction has written so far. */
async function abandon(tx: { abort(): void; readonly done: Promise<void> }): Promise<void> {
  try {
    tx.abort();
  } catch {
    // It has ended already, by the error that brought us here.
  }
  await tx.done.catch(() => undefined);
}

async function take(
  db: IDBPDatabase<Schema>,
  events: readonly LogEvent[],
  sequence: number | undefined,
): Promise<void> {
  const tx = db.transaction(['events', 'meta'], 'readwrite', { durability: 'strict' });
  const writes = events.map((event) => tx.objectStore('events').put(event));
  const known = Number((await tx.objectStore('meta').get('sequence')) ?? 0);
  if (sequence !== undefined && sequence > known) {
    await tx.objectStore('meta').put(sequence, 'sequence');
  }
  await Promise.all([...writes, tx.done]);
}
