/** What probes sent, in the same file as the log and apart from it: a page never loads it whole. */
import type { KeptRow } from '@ladlework/log';
import type { Database, Statement } from 'better-sqlite3';
import { notSaved, reasonOf } from './sqlite-error.ts';
import type { KeptSpan, NotSaved, ReadingStore } from './store.ts';

interface Row {
  readonly probe: string;
  readonly from_ms: number;
  readonly to_ms: number;
  readonly first: number;
  readonly last: number;
  readonly low: number;
  readonly high: number;
  readonly readings: number;
}

export class SqliteReadings implements ReadingStore {
  readonly #db: Database;
  readonly #insert: Statement<Row>;
  readonly #span: Statement<[string, number, number, number], Row>;

  /** @param db set up by `openDatabase` */
  constructor(db: Database) {
    this.#db = db;
    this.#insert = db.prepare(
      `INSERT OR IGNORE INTO probe_row (probe, from_ms, to_ms, first, last, low, high, readings)
       VALUES (@probe, @from_ms, @to_ms, @first, @last, @low, @high, @readings)`,
    );
    // A row is never longer than five minutes: the key finds the first that can reach into the span.
    this.#span = db.prepare(
      `SELECT * FROM probe_row WHERE probe = ? AND from_ms >= ? AND from_ms <= ?
       ORDER BY from_ms LIMIT ?`,
    );
  }

  async keep(rows: readonly KeptRow[]): Promise<{ readonly ok: true } | NotSaved> {
    if (rows.length === 0) return { ok: true };
    const run = this.#db.transaction(() => {
      for (const { fromMs, toMs, ...row } of rows) {
        this.#insert.run({ ...row, from_ms: fromMs, to_ms: toMs });
      }
    });
    try {
      run.immediate();
      return { ok: true };
    } catch (thrown) {
      const reason = reasonOf(thrown);
      if (reason === undefined) throw thrown;
      return notSaved(reason);
    }
  }

  async kept({ probe, fromMs, toMs, limit }: KeptSpan): Promise<readonly KeptRow[]> {
    return this.#span.all(probe, fromMs, toMs, limit ?? -1).map((r) => ({
      probe: r.probe,
      fromMs: r.from_ms,
      toMs: r.to_ms,
      first: r.first,
      last: r.last,
      low: r.low,
      high: r.high,
      readings: r.readings,
    }));
  }
}
