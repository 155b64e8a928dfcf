/** Opening a log file: ours, whole, and of a version this program knows. */
import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { APPLICATION_ID, migrate, NEWEST_VERSION, version } from './migrations.ts';
import { reasonOf } from './sqlite-error.ts';
import { SqliteStore } from './sqlite-store.ts';
import type { EventStore } from './store.ts';

export interface OpenError {
  readonly code: 'damaged' | 'not-ours' | 'too-new' | 'cannot-open';
  readonly message: string;
}

export type OpenOutcome =
  | { readonly ok: true; readonly store: EventStore }
  | { readonly ok: false; readonly error: OpenError };

/** How long a write waits for another process that reads the file [ms]. */
const BUSY_MS = 2000;

/** Reading every page of a file takes 2 ms a megabyte; up to this size nobody notices [bytes]. */
const SMALL = 16 * 1024 * 1024;

/**
 * Opens the log, making it when there is none.
 *
 * A file that is damaged, somebody else's, or from a newer Ladlework is left untouched.
 *
 * @param path of the file; its folder is made
 */
export function openStore(path: string): OpenOutcome {
  const opened = openDatabase(path);
  return opened.ok ? { ok: true, store: new SqliteStore(opened.db) } : opened;
}

/** The database itself, set up and migrated: for tests that squeeze it. */
export function openDatabase(
  path: string,
): { readonly ok: true; readonly db: Database.Database } | Extract<OpenOutcome, { ok: false }> {
  let db: Database.Database | undefined;
  try {
    mkdirSync(dirname(path), { recursive: true });
    const refusal = refusalAt(path);
    if (refusal !== undefined) return { ok: false, error: refusal };
    db = new Database(path, { timeout: BUSY_MS });
    // WAL + FULL: a commit returns when the log of the write is on disk, not in a cache.
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.pragma('trusted_schema = OFF');
    if (version(db) === 0) db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(db);
    return { ok: true, db };
  } catch (thrown) {
    db?.close();
    return { ok: false, error: openError(thrown, path) };
  }
}

function size(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
}

/** Looks at the file without the right to write: what is refused stays as it was found. */
function refusalAt(path: string): OpenError | undefined {
  const bytes = size(path);
  if (bytes === 0) return undefined;
  // A write-ahead log is left behind by a process that did not close it.
  const thorough = bytes <= SMALL || size(`${path}-wal`) > 0;
  const db = new Database(path, { readonly: true, timeout: BUSY_MS });
  try {
    return refusalOf(db, path, thorough);
  } finally {
    db.close();
  }
}

/** @param thorough read every page; for a long log that was closed properly `check()` does it */
function refusalOf(db: Database.Database, path: string, thorough: boolean): OpenError | undefined {
  const owner = db.pragma('application_id', { simple: true });
  const empty = db.prepare('SELECT count(*) = 0 FROM sqlite_schema').pluck().get() === 1;
  if (empty && (owner === 0 || owner === APPLICATION_ID)) return undefined;
  if (owner !== APPLICATION_ID) {
    return {
      code: 'not-ours',
      message: `${path} is a database of another program. Name another file.`,
    };
  }
  const found = version(db);
  if (found > NEWEST_VERSION) {
    return {
      code: 'too-new',
      message: `${path} was written by a newer Ladlework (log version ${found}, known up to ${NEWEST_VERSION}). Start that one, or name another file.`,
    };
  }
  if (!thorough) return undefined;
  const [first] = db.pragma('quick_check(1)') as { quick_check: string }[];
  return first?.quick_check === 'ok'
    ? undefined
    : damaged(path, first?.quick_check ?? 'unreadable');
}

const damaged = (path: string, detail: string): OpenError => ({
  code: 'damaged',
  message: `${path} is damaged (${detail}). Nothing was changed. Put it aside and restore the last backup.`,
});

function openError(thrown: unknown, path: string): OpenError {
  const detail = thrown instanceof Error ? thrown.message : String(thrown);
  if (reasonOf(thrown) === 'damaged') return damaged(path, detail);
  return { code: 'cannot-open', message: `${path} cannot be opened: ${detail}.` };
}
