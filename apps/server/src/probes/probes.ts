/**
 * The probes of the house: which there are, what they sent in the last hour, and what of it goes
 * to disk and to the pages. HTTP and MQTT both end here.
 */
import { type FieldError, parseProbeReadings, type SentReading } from '@ladlework/contract';
import {
  foldProbes,
  type KeptRow,
  type LogEvent,
  type Probe,
  type ProbeSample,
  RowMaker,
  type ShelvedProbe,
} from '@ladlework/log';
import type { EventStore } from '@ladlework/store';
import type { LiveStream } from '../live-stream.ts';
import { RateLimit } from '../rate-limit.ts';
import { Recent } from './recent.ts';
import { Writer } from './writer.ts';

/** Pages hear the newest value of each probe, this often at most [ms]. */
const SAY_MS = 1000;
/** Messages of one probe: several a second, and a burst when its line comes back. */
const MESSAGES = { perSecond: 5, burst: 30 };
/** A device's own clock may be so far ahead of ours [ms]; and its batch so old. */
const AHEAD_MS = 60_000;
const BEHIND_MS = 30 * 24 * 3_600_000;
/** How often at most the log is looked at for probes that were saved meanwhile [ms]. */
const LOOK_MS = 1000;

/** What became of a message. */
export type Taken =
  | { readonly ok: true; readonly taken: number }
  | { readonly ok: false; readonly code: 'invalid'; readonly errors: readonly FieldError[] }
  | { readonly ok: false; readonly code: 'too-many' | 'not-saved'; readonly message: string };

interface Heard {
  readonly recent: Recent;
  readonly rows: RowMaker;
  /** How it is heard, and what was last wrong with what it sent. */
  by: 'http' | 'mqtt' | undefined;
  problem: { readonly atMs: number; readonly message: string } | undefined;
  unsaid: boolean;
}

export interface ProbesDeps {
  readonly store: EventStore;
  readonly live: LiveStream;
  readonly now: () => number;
  readonly log: (line: string) => void;
}

export class Probes {
  readonly #store: EventStore;
  readonly #live: LiveStream;
  readonly #now: () => number;
  readonly #log: (line: string) => void;
  readonly #writer: Writer;
  readonly #messages: RateLimit;
  readonly #heard = new Map<string, Heard>();
  readonly #timer: NodeJS.Timeout;
  #shelf = new Map<string, ShelvedProbe>();
  #events: LogEvent[] = [];
  #upTo = 0;
  #lookedMs = Number.NEGATIVE_INFINITY;
  #looking: Promise<void> | undefined;

  constructor({ store, live, now, log }: ProbesDeps) {
    this.#store = store;
    this.#live = live;
    this.#now = now;
    this.#log = log;
    this.#writer = new Writer(store.readings, log);
    this.#messages = new RateLimit(MESSAGES.perSecond, MESSAGES.burst, now);
    this.#timer = setInterval(() => this.#say(), SAY_MS);
    this.#timer.unref();
  }

  /** Every probe that is in use. */
  async all(): Promise<readonly ShelvedProbe[]> {
    await this.#look(true);
    return [...this.#shelf.values()].filter((p) => !p.retired);
  }

  /**
   * The probe of an id, when it is in use.
   *
   * @param fresh what was saved this very second counts; else it may be a second old
   */
  async find(id: string, fresh = false): Promise<ShelvedProbe | undefined> {
    await this.#look(fresh || !this.#shelf.has(id));
    const found = this.#shelf.get(id);
    return found?.retired === false ? found : undefined;
  }

  /**
   * Takes what a probe sent.
   *
   * @param json parsed JSON or the text of a bare number
   * @returns once what came with times of its own is on disk, for such a device then forgets it;
   *   a reading as it is made is answered at once
   */
  async take(probe: Probe, json: unknown, by: 'http' | 'mqtt'): Promise<Taken> {
    const heard = this.#heardOf(probe);
    const nowMs = this.#now();
    if (!this.#messages.take(probe.id)) {
      const message = `More than ${MESSAGES.perSecond} messages a second. Send several readings in one.`;
      this.#complain(probe, heard, message);
      return { ok: false, code: 'too-many', message };
    }
    const parsed = parseProbeReadings(probe, json);
    const errors = parsed.ok ? timeErrors(parsed.readings, nowMs) : parsed.errors;
    if (!parsed.ok || errors.length > 0) {
      this.#complain(probe, heard, errors[0]?.message ?? '');
      return { ok: false, code: 'invalid', errors };
    }
    heard.by = by;
    heard.problem = undefined;
    const own = parsed.readings.some((r) => r.atMs !== undefined);
    const samples = parsed.readings
      .map((r): ProbeSample => ({ atMs: r.atMs ?? nowMs, value: r.value }))
      .sort((a, b) => a.atMs - b.atMs);
    const rows = this.#rowsOf(probe, heard, samples);
    for (const sample of samples) heard.recent.add(sample, nowMs);
    heard.unsaid = true;
    if (!own) {
      this.#writer.add(rows);
      return { ok: true, taken: samples.length };
    }
    const saved = await this.#writer.addAndWait([...rows, ...heard.rows.close()]);
    return saved.ok
      ? { ok: true, taken: samples.length }
      : { ok: false, code: 'not-saved', message: saved.message };
  }

  /** A message that could not even be given to a probe's reader. */
  refuse(probe: Probe, message: string): void {
    this.#complain(probe, this.#heardOf(probe), message);
  }

  /** How a probe is doing. */
  standing(probe: Probe): Pick<Heard, 'by' | 'problem'> & { readonly newest?: ProbeSample } {
    const heard = this.#heard.get(probe.id);
    const newest = heard?.recent.newest;
    return { by: heard?.by, problem: heard?.problem, ...(newest && { newest }) };
  }

  /** Raw readings of the last hour. */
  recent(probe: Probe, fromMs: number): ProbeSample[] {
    return this.#heard.get(probe.id)?.recent.since(fromMs) ?? [];
  }

  /** Kept rows of a span, the open one with them. */
  async kept(probe: Probe, fromMs: number, toMs: number, limit: number): Promise<KeptRow[]> {
    await this.#writer.written();
    const rows = await this.#store.readings.kept({ probe: probe.id, fromMs, toMs, limit });
    const open = this.#heard.get(probe.id)?.rows.open;
    const fits = open !== undefined && open.fromMs >= fromMs && open.fromMs <= toMs;
    return fits && rows.length < limit ? [...rows, open] : [...rows];
  }

  /** Writes what is open, and ends. */
  async close(): Promise<void> {
    clearInterval(this.#timer);
    const rows = [...this.#heard.values()].flatMap((h) => h.rows.close());
    await this.#writer.addAndWait(rows);
    this.#writer.close();
  }

  #heardOf(probe: Probe): Heard {
    const known = this.#heard.get(probe.id);
    if (known !== undefined) return known;
    const fresh: Heard = {
      recent: new Recent(),
      rows: new RowMaker(probe.id, probe.what),
      by: undefined,
      problem: undefined,
      unsaid: false,
    };
    this.#heard.set(probe.id, fresh);
    return fresh;
  }

  /** A late batch makes rows of its own: it must not cut up what comes in now. */
  #rowsOf(probe: Probe, heard: Heard, samples: readonly ProbeSample[]): KeptRow[] {
    const late = (heard.rows.open?.toMs ?? 0) >= (samples[0]?.atMs ?? 0);
    const maker = late ? new RowMaker(probe.id, probe.what) : heard.rows;
    const rows = samples.flatMap((s) => maker.take(s));
    return late ? [...rows, ...maker.close()] : rows;
  }

  /** Tells the operator once, and the kit page as long as it lasts. */
  #complain(probe: Probe, heard: Heard, message: string): void {
    const known = heard.problem?.message === message;
    heard.problem = { atMs: this.#now(), message };
    if (!known) this.#log(`probe ${probe.name} (${probe.id}): ${message}`);
  }

  /** One message a second to all pages, however many probes there are. */
  #say(): void {
    const values: [string, number, number][] = [];
    for (const [id, heard] of this.#heard) {
      const newest = heard.recent.newest;
      if (heard.unsaid && newest !== undefined) values.push([id, newest.atMs, newest.value]);
      heard.unsaid = false;
    }
    if (values.length > 0) this.#live.say('probes', { values });
  }

  /** Reads what was saved of probes since it last looked. */
  async #look(now: boolean): Promise<void> {
    if (!now && this.#now() - this.#lookedMs < LOOK_MS) return;
    this.#looking ??= this.#read().finally(() => {
      this.#looking = undefined;
    });
    await this.#looking;
  }

  async #read(): Promise<void> {
    this.#lookedMs = this.#now();
    const last = await this.#store.last();
    if (last === this.#upTo) return;
    const fresh = this.#upTo === 0 ? await this.#everything() : await this.#store.since(this.#upTo);
    this.#upTo = Math.max(last, fresh.at(-1)?.seq ?? 0);
    const own = fresh.map((s) => s.event).filter((e) => e.stream.startsWith('probe:'));
    if (own.length === 0) return;
    this.#events = [...this.#events, ...own];
    this.#shelf = new Map(foldProbes(this.#events).map((p) => [p.id, p]));
  }

  /** The streams of probes only: ten years of brews are not read for them. */
  async #everything() {
    const streams = (await this.#store.streams()).filter((s) => s.stream.startsWith('probe:'));
    const lists = await Promise.all(streams.map(({ stream }) => this.#store.since(0, { stream })));
    return lists.flat().sort((a, b) => a.seq - b.seq);
  }
}

/** What is wrong with the times a device gave. */
function timeErrors(readings: readonly SentReading[], nowMs: number): FieldError[] {
  for (const [n, { atMs }] of readings.entries()) {
    const field = readings.length === 1 ? 'atMs' : `readings[${n}].atMs`;
    if (atMs === undefined) {
      if (readings.length === 1) return [];
      const allowed = 'milliseconds since 1970 on each';
      const message = `${field}: is missing; allowed: ${allowed}, when several readings come at once. Send one reading a message from a device without a clock.`;
      return [{ code: 'missing', field, value: 'nothing', allowed, message }];
    }
    if (atMs <= nowMs + AHEAD_MS && atMs >= nowMs - BEHIND_MS) continue;
    const allowed = `${nowMs - BEHIND_MS} to ${nowMs + AHEAD_MS}`;
    const off = atMs > nowMs ? 'ahead of the server’s clock' : 'more than 30 days old';
    const message = `${field}: ${atMs} is ${off}; allowed: ${allowed}. Set the device’s clock, or leave the time out.`;
    return [{ code: 'out-of-range', field, value: String(atMs), allowed, message }];
  }
  return [];
}
