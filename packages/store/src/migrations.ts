/** Steps that bring a log file of any age up to date. Never edit a step; add one. */
import type { Database } from 'better-sqlite3';

/** Marks the file as ours: "Ladl". */
export const APPLICATION_ID = 0x4c61646c;

const STEPS: readonly string[] = [
  `
  CREATE TABLE event (
    seq    INTEGER PRIMARY KEY AUTOINCREMENT,
    id     TEXT NOT NULL UNIQUE,
    stream TEXT NOT NULL,
    body   TEXT NOT NULL, -- canonical JSON of the whole event
    sum    TEXT NOT NULL  -- of the body: a disk that lies is found out
  ) STRICT;
  CREATE INDEX event_by_stream ON event (stream, seq);
  CREATE TRIGGER event_is_not_changed BEFORE UPDATE ON event
    BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END;
  CREATE TRIGGER event_is_not_removed BEFORE DELETE ON event
    BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END;
  `,
  `
  CREATE TABLE probe_row (
    probe    TEXT NOT NULL,
    from_ms  INTEGER NOT NULL,
    to_ms    INTEGER NOT NULL,
    first    REAL NOT NULL, -- as sent, in the house unit: a calibration is applied when it is read
    last     REAL NOT NULL,
    low      REAL NOT NULL,
    high     REAL NOT NULL,
    readings INTEGER NOT NULL,
    PRIMARY KEY (probe, from_ms)
  ) STRICT, WITHOUT ROWID;
  CREATE TRIGGER probe_row_is_not_changed BEFORE UPDATE ON probe_row
    BEGIN SELECT RAISE(ABORT, 'what probes sent is append-only'); END;
  CREATE TRIGGER probe_row_is_not_removed BEFORE DELETE ON probe_row
    BEGIN SELECT RAISE(ABORT, 'what probes sent is append-only'); END;
  `,
];

export const NEWEST_VERSION = STEPS.length;

/**
 * Brings the file up to date, each step whole or not at all.
 *
 * @param db open for writing, of a version no newer than ours
 */
export function migrate(db: Database): void {
  const step = db.transaction((n: number) => {
    db.exec(STEPS[n] ?? '');
    db.pragma(`user_version = ${n + 1}`);
  });
  for (let n = version(db); n < NEWEST_VERSION; n += 1) step.immediate(n);
}

/** Steps already made. */
export function version(db: Database): number {
  return db.pragma('user_version', { simple: true }) as number;
}
