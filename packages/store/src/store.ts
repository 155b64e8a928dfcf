/** What every store of the log does, whatever it keeps the log in. */
import type { KeptRow, LogEvent } from '@ladlework/log';

/** An event with its number in this store: the order in which events became durable. */
export interface StoredEvent {
  /** From 1 up, without gaps. */
  readonly seq: number;
  readonly event: LogEvent;
}

/** What became of one event. */
export type EventOutcome =
  | {
      readonly ok: true;
      readonly id: string;
      readonly seq: number;
      /** False when the store had it already. */
      readonly fresh: boolean;
    }
  | { readonly ok: false; readonly id: string; readonly code: 'other-content' };

/** Why nothing of a batch was saved. The events are still the sender's to keep. */
export interface NotSaved {
  readonly ok: false;
  readonly code: 'not-saved';
  readonly reason: 'disk-full' | 'read-only' | 'busy' | 'damaged' | 'disk-error';
  readonly message: string;
}

export type AppendOutcome =
  | { readonly ok: true; readonly outcomes: readonly EventOutcome[] }
  | NotSaved;

export interface StreamInfo {
  readonly stream: string;
  readonly events: number;
  readonly lastSeq: number;
}

export type Integrity =
  | { readonly ok: true; readonly events: number }
  | { readonly ok: false; readonly problems: readonly string[] };

export type BackupOutcome =
  | { readonly ok: true; readonly events: number }
  | { readonly ok: false; readonly message: string };

/** The rules are in the README; `behaviour.ts` holds every store against them. */
export interface EventStore {
  /** Resolves when all of the batch is on disk, or none of it. */
  append(events: readonly LogEvent[]): Promise<AppendOutcome>;
  /** Events after a number, in the order of their numbers. */
  since(seq: number, options?: SinceOptions): Promise<readonly StoredEvent[]>;
  /** The newest number; 0 for an empty log. */
  last(): Promise<number>;
  streams(): Promise<readonly StreamInfo[]>;
  /** What probes sent. */
  readonly readings: ReadingStore;
  /** A whole copy beside the running log. Never overwrites a file. */
  backup(path: string): Promise<BackupOutcome>;
  /** Reads everything and compares it with what was written. */
  check(): Promise<Integrity>;
  close(): Promise<void>;
}

export interface SinceOptions {
  readonly stream?: string;
  /** At most so many. */
  readonly limit?: number;
}

/** Rows of one probe that begin within a span of time, both ends included. */
export interface KeptSpan {
  readonly probe: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** At most so many, the earliest. */
  readonly limit?: number;
}

/** Readings of probes, kept beside the log: no event, no number, never in a page's copy of the log. */
export interface ReadingStore {
  /** Resolves when all are on disk, or none; a row of a known probe and beginning is passed over. */
  keep(rows: readonly KeptRow[]): Promise<{ readonly ok: true } | NotSaved>;
  /** In order of time. */
  kept(span: KeptSpan): Promise<readonly KeptRow[]>;
}
