/** Rows on their way to disk: many share one sync, and a full disk does not fill the memory. */
import type { KeptRow } from '@ladlework/log';
import type { ReadingStore } from '@ladlework/store';

/** Rows that come within this share one sync of the disk [ms]. */
const GATHER_MS = 50;
/** After a failure the next attempt waits [ms]. */
const RETRY_MS = 5000;
/** Rows that wait at most; then the oldest are given up: 200 probes for an hour. */
const MOST_WAITING = 72_000;

type Outcome = Awaited<ReturnType<ReadingStore['keep']>>;

export class Writer {
  readonly #store: ReadingStore;
  readonly #log: (line: string) => void;
  #waiting: KeptRow[] = [];
  #heardBy: ((outcome: Outcome) => void)[] = [];
  #timer: NodeJS.Timeout | undefined;
  #writing: Promise<void> = Promise.resolve();
  #failing = false;

  constructor(store: ReadingStore, log: (line: string) => void) {
    this.#store = store;
    this.#log = log;
  }

  /** Takes rows to be written soon. */
  add(rows: readonly KeptRow[]): void {
    if (rows.length === 0) return;
    for (const row of rows) this.#waiting.push(row);
    if (this.#waiting.length > MOST_WAITING) {
      this.#waiting.splice(0, this.#waiting.length - MOST_WAITING);
    }
    this.#timer ??= setTimeout(() => void this.#write(), this.#failing ? RETRY_MS : GATHER_MS);
  }

  /** Takes rows and tells when they, and what waited before them, are on disk. */
  addAndWait(rows: readonly KeptRow[]): Promise<Outcome> {
    this.add(rows);
    return new Promise((resolve) => {
      this.#heardBy.push(resolve);
      clearTimeout(this.#timer);
      this.#timer = setTimeout(() => void this.#write(), 0);
    });
  }

  /** Resolves when nothing waits that could be written. */
  async written(): Promise<void> {
    if (this.#waiting.length > 0 && !this.#failing) await this.addAndWait([]);
    await this.#writing;
  }

  close(): void {
    clearTimeout(this.#timer);
  }

  #write(): Promise<void> {
    this.#timer = undefined;
    this.#writing = this.#writing
      .then(() => this.#writeAll())
      .catch((thrown) => this.#log(`probes: ${String(thrown)}`));
    return this.#writing;
  }

  async #writeAll(): Promise<void> {
    const [rows, heardBy] = [this.#waiting, this.#heardBy];
    this.#waiting = [];
    this.#heardBy = [];
    const outcome = await this.#store.keep(rows);
    if (!outcome.ok) {
      if (!this.#failing) this.#log(`probes: ${outcome.message}`);
      this.#waiting = [...rows, ...this.#waiting].slice(-MOST_WAITING);
      this.#timer ??= setTimeout(() => void this.#write(), RETRY_MS);
      this.#timer.unref();
    }
    this.#failing = !outcome.ok;
    for (const resolve of heardBy) resolve(outcome);
  }
}
