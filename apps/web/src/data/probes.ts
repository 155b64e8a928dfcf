/** What this page has heard of the house's probes. Kept in memory only: the server has it all. */
import { ProbeAccessAnswer, ProbeNews, ProbeRowsAnswer } from '@ladlework/contract';
import {
  calibrated,
  foldProbes,
  type KeptRow,
  type ProbeSample,
  probeAt,
  RowMaker,
  type ShelvedProbe,
  samplesOf,
} from '@ladlework/log';
import type { Result } from '@ladlework/quantity';
import { computed, signal } from '@preact/signals';
import * as v from 'valibot';
import { ask, type NoAnswer } from './api.ts';
import { events } from './house.ts';

/** Raw readings kept beside the rows: enough to know a probe's rhythm and whether it is steady. */
const RAW_MS = 900_000;

/** Probes in use, by name. */
export const probes = computed((): readonly ShelvedProbe[] => {
  const own = events.value.filter((e) => e.stream.startsWith('probe:'));
  return own.length === 0 ? [] : foldProbes(own).filter((p) => !p.retired);
});

interface Heard {
  readonly rows: readonly KeptRow[];
  readonly maker: RowMaker;
  readonly raw: readonly ProbeSample[];
}

/** A probe not heard for so long may come back with a batch [ms]. */
const SILENCE_MS = 120_000;

const heard = new Map<string, Heard>();
/** Since when each probe's history was asked for last. */
const askedFrom = new Map<string, number>();
/** Counts what was heard; who draws probes reads it. */
const news = signal(0);
/** Counts histories that came in: what the forecast was told may have to be told again. */
export const histories = signal(0);

function heardOf(id: string): Heard {
  const known = heard.get(id);
  if (known !== undefined) return known;
  const what = probes.peek().find((p) => p.id === id)?.item.what ?? 'temp';
  return { rows: [], maker: new RowMaker(id, what), raw: [] };
}

/** Takes one message of the live stream; nothing when it is none of ours. */
export function takeNews(text: string): void {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    // Cut off by a falling network; the next one is a second away.
    return;
  }
  const parsed = v.safeParse(ProbeNews, json);
  if (!parsed.success) return;
  for (const [id, atMs, value] of parsed.output.values) {
    const { rows, maker, raw } = heardOf(id);
    const closed = maker.take({ atMs, value });
    const long = (raw[0]?.atMs ?? atMs) < atMs - 1.2 * RAW_MS;
    const kept = long ? raw.filter((s) => s.atMs >= atMs - RAW_MS) : raw;
    // Back after a silence, its device may have sent what it kept meanwhile.
    if (atMs - (raw.at(-1)?.atMs ?? 0) > SILENCE_MS && askedFrom.has(id)) {
      void loadHistory(id, askedFrom.get(id) ?? 0);
    }
    heard.set(id, {
      rows: closed.length === 0 ? rows : [...rows, ...closed],
      maker,
      raw: [...kept, { atMs, value }],
    });
  }
  news.value += 1;
}

/** Asks the server what a probe sent since a time, in place of what the page knew. */
export async function loadHistory(id: string, fromMs: number): Promise<void> {
  askedFrom.set(id, fromMs);
  const answer = await ask(
    ProbeRowsAnswer,
    `/api/probes/${encodeURIComponent(id)}/readings?from=${Math.max(0, Math.floor(fromMs))}`,
  );
  if (!answer.ok) return;
  const { rows } = answer.value;
  const { raw } = heardOf(id);
  const what = probes.peek().find((p) => p.id === id)?.item.what ?? 'temp';
  const maker = new RowMaker(id, what);
  const upTo = rows.at(-1)?.toMs ?? 0;
  // What came by the stream while the answer was on its way.
  const later = raw.filter((s) => s.atMs > upTo).flatMap((s) => maker.take(s));
  heard.set(id, { rows: [...rows.map((r) => ({ probe: id, ...r })), ...later], maker, raw });
  histories.value += 1;
  news.value += 1;
}

/** Numbers as sent, in order of time; reading it redraws when more comes. */
export function rawOf(id: string): readonly ProbeSample[] {
  news.value;
  return heard.get(id)?.raw ?? [];
}

/** Calibrated samples since a time: from rows, and raw where the page heard it itself. */
export function samplesSince(probe: ShelvedProbe, fromMs: number): ProbeSample[] {
  news.value;
  return seriesOf(probe, fromMs);
}

/** The same, without following what comes in. */
export function seriesOf(probe: ShelvedProbe, fromMs: number): ProbeSample[] {
  const known = heard.get(probe.id);
  if (known === undefined) return [];
  const { rows, maker, raw } = known;
  const rawFrom = raw[0]?.atMs ?? Number.POSITIVE_INFINITY;
  const open = maker.open;
  const old = samplesOf(open === undefined ? rows : [...rows, open]);
  return [...old.filter((s) => s.atMs < rawFrom), ...raw]
    .filter((s) => s.atMs >= fromMs)
    .map((s) => ({ atMs: s.atMs, value: calibrated(probeAt(probe, s.atMs), s.value) }));
}

/** Where a probe sends to, and what it proves itself with. */
export function askAccess(
  id: string,
): Promise<Result<v.InferOutput<typeof ProbeAccessAnswer>, NoAnswer>> {
  return ask(ProbeAccessAnswer, `/api/probes/${encodeURIComponent(id)}/access`, {
    cache: 'no-store',
  });
}
