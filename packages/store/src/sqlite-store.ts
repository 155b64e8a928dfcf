/** The log on SQLite. */
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { canonicalJson, type LogEvent } from '@ladlework/log';
import Database from 'better-sqlite3';
import { notSaved, reasonOf } from './sqlite-error.ts';
import { SqliteReadings } from './sqlite-readings.ts';
import type {
  AppendOutcome,
  BackupOutcome,
  EventOutcome,
  EventStore,
  Integrity,
  SinceOptions,
  StoredEvent,
  StreamInfo,
} from './store.ts';

interface Row {
  readonly seq: number;
  readonly id: string;
  readonly stream: string;
  readonly body: string;
  readonly sum: string;
}

interface Waiting {
  readonly events: readonly LogEvent[];
  readonly resolve: (outcome: AppendOutcome) => void;
  readonly reject: (thrown: unknown) => void;
}

/** Sum of a body: enough to tell a flipped bit, short enough to keep with every row. */
const sumOf = (body: string): string =>
  createHash('sha256').update(body).digest('hex').slice(0, 16);

export class SqliteStore implements EventStore {
  readonly readings: SqliteReadings;
  readonly #db: Database.Database;
  readonly #known: Database.Statement<[string], { seq: number; body: string }>;
  readonly #insert: Database.Statement<[string, string, string, string]>;
  readonly #all: Database.Statement<[number, number], Row>;
  readonly #ofStream: Database.Statement<[string, number, number], Row>;
  #waiting: Waiting[] = [];

  /** @param db set up by `openDatabase` */
  constructor(db: Database.Database) {
    this.#db = db;
    this.readings = new SqliteReadings(db);
    this.#known = db.prepare('SELECT seq, body FROM event WHERE id = ?');
    this.#insert = db.prepare('INSERT INTO event (id, stream, body, sum) VALUES (?, ?, ?, ?)');
    this.#all = db.prepare('SELECT * FROM event WHERE seq > ? ORDER BY seq LIMIT ?');
    this.#ofStream = db.prepare(
      'SELECT * FROM event WHERE stream = ? AND seq > ? ORDER BY seq LIMIT ?',
    );
  }

  append(events: readonly LogEvent[]): Promise<AppendOutcome> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({ events, resolve, reject });
      // Whatever comes in during one turn of the loop shares one sync of the disk.
      if (this.#waiting.length === 1) setImmediate(() => this.#flush());
    });
  }

  #flush(): void {
    const batch = this.#waiting;
    this.#waiting = [];
    if (batch.length === 0) return;
    try {
      const outcomes = this.#write(batch.map((w) => w.events));
      batch.forEach((w, n) => {
        w.resolve({ ok: true, outcomes: outcomes[n] ?? [] });
      });
    } catch (thrown) {
      const reason = reasonOf(thrown);
      for (const w of batch) {
        if (reason === undefined) w.reject(thrown);
        else w.resolve(notSaved(reason));
      }
    }
  }

  #write(lists: readonly (readonly LogEvent[])[]): EventOutcome[][] {
    const run = this.#db.transaction(() => lists.map((events) => events.map((e) => this.#put(e))));
    return run.immediate();
  }

  #put(event: LogEvent): EventOutcome {
    const body = canonicalJson(event);
    const known = this.#known.get(event.id);
    if (known !== undefined) {
      return known.body === body
        ? { ok: true, id: event.id, seq: known.seq, fresh: false }
        : { ok: false, id: event.id, code: 'other-content' };
    }
    const { lastInsertRowid } = this.#insert.run(event.id, event.stream, body, sumOf(body));
    return { ok: true, id: event.id, seq: Number(lastInsertRowid), fresh: true };
  }

  async since(seq: number, options: SinceOptions = {}): Promise<readonly StoredEvent[]> {
    const limit = options.limit ?? -1;
    const rows =
      options.stream === undefined
        ? this.#all.all(seq, limit)
        : this.#ofStream.all(options.stream, seq, limit);
    // Bodies were parsed by the contract on their way in.
    return rows.map((r) => ({ seq: r.seq, event: JSON.parse(r.body) as LogEvent }));
  }

  async last(): Promise<number> {
    return this.#db.prepare('SELECT coalesce(max(seq), 0) FROM event').pluck().get() as number;
  }

  async streams(): Promise<readonly StreamInfo[]> {
    return this.#db
      .prepare<[], StreamInfo>(
        'SELECT stream, count(*) AS events, max(seq) AS lastSeq FROM event GROUP BY stream ORDER BY stream',
      )
      .all();
  }

  async backup(path: string): Promise<BackupOutcome> {
    if (existsSync(path)) {
      return { ok: false, message: `${path} is there already. Name a new file.` };
    }
    const half = `${path}.part`;
    try {
      await rm(half, { force: true });
      await this.#db.backup(half);
      const integrity = checkCopy(half);
      if (!integrity.ok) throw new Error(integrity.problems.join('; '));
      await rename(half, path);
      return { ok: true, events: integrity.events };
    } catch (thrown) {
      await rm(half, { force: true });
      const detail = thrown instanceof Error ? thrown.message : String(thrown);
      return { ok: false, message: `No backup was made to ${path}: ${detail}.` };
    }
  }

  async check(): Promise<Integrity> {
    return checkDatabase(this.#db);
  }

  async close(): Promise<void> {
    this.#flush();
    this.#db.close();
  }
}

function checkCopy(path: string): Integrity {
  const db = new Database(path);
  try {
    // One file, nothing beside it: the copy can be carried away on a stick.
    db.pragma('journal_mode = DELETE');
    return checkDatabase(db);
  } finally {
    db.close();
  }
}

/** Most problems told; a broken disk has thousands of the same. */
const MOST_PROBLEMS = 20;

function checkDatabase(db: Database.Database): Integrity {
  const pages = db.pragma(`integrity_check(${MOST_PROBLEMS})`) as { integrity_check: string }[];
  const problems = pages.map((p) => p.integrity_check).filter((text) => text !== 'ok');
  let events = 0;
  try {
    for (const row of db.prepare<[], Row>('SELECT * FROM event ORDER BY seq').iterate()) {
      events += 1;
      if (row.seq !== events) problems.push(`event ${events} is missing (found ${row.seq})`);
      if (sumOf(row.body) !== row.sum) problems.push(`event ${row.seq} is not what was written`);
      if (problems.length >= MOST_PROBLEMS) break;
    }
  } catch (thrown) {
    if (reasonOf(thrown) === undefined) throw thrown;
    problems.push(thrown instanceof Error ? thrown.message : String(thrown));
  }
  return problems.length === 0 ? { ok: true, events } : { ok: false, problems };
}
