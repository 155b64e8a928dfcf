/** Folded lists, kept per stream and folded again only when the stream has grown. */
import {
  type BrewState,
  foldBeers,
  foldBrew,
  foldKits,
  type LogEvent,
  type Shelved,
  type ShelvedBeer,
  streamParts,
} from '@ladlework/log';
import type { EventStore, StreamInfo } from '@ladlework/store';

/** One line of the list of brews. */
export interface BrewLine {
  readonly brew: string;
  readonly beer?: string;
  readonly kit?: string;
  readonly startedAtMs?: number;
  readonly lastAtMs?: number;
  readonly ended?: 'finished' | 'abandoned';
  readonly current?: string;
  readonly next?: string;
  readonly readings: number;
  readonly conflicts: number;
}

type Folded =
  | { readonly kind: 'kit'; readonly items: readonly Shelved[] }
  | { readonly kind: 'beer'; readonly items: readonly ShelvedBeer[] }
  | { readonly kind: 'brew'; readonly line: BrewLine };

export class Shelves {
  readonly #store: EventStore;
  readonly #kept = new Map<string, { lastSeq: number; folded: Folded }>();

  constructor(store: EventStore) {
    this.#store = store;
  }

  async kits(): Promise<Shelved[]> {
    const all = await this.#folded('kit');
    return all.flatMap((f) => (f.kind === 'kit' ? f.items : [])).sort(byName);
  }

  async beers(): Promise<ShelvedBeer[]> {
    const all = await this.#folded('beer');
    return all.flatMap((f) => (f.kind === 'beer' ? f.items : [])).sort(byName);
  }

  /** Newest first. */
  async brews(): Promise<BrewLine[]> {
    const all = await this.#folded('brew');
    const when = (b: BrewLine) => b.startedAtMs ?? b.lastAtMs ?? 0;
    return all
      .flatMap((f) => (f.kind === 'brew' ? [f.line] : []))
      .sort((a, b) => when(b) - when(a) || (a.brew < b.brew ? -1 : 1));
  }

  /** A brew whole; undefined when nothing was ever written of it. */
  async brew(id: string): Promise<BrewState | undefined> {
    const stored = await this.#store.since(0, { stream: `brew:${id}` });
    if (stored.length === 0) return undefined;
    return foldBrew(
      stored.map((s) => s.event),
      id,
    );
  }

  async #folded(kind: Folded['kind']): Promise<Folded[]> {
    const streams = await this.#store.streams();
    const folded: Folded[] = [];
    for (const info of streams) {
      if (streamParts(info.stream)?.kind === kind) folded.push(await this.#fold(info));
    }
    return folded;
  }

  async #fold({ stream, lastSeq }: StreamInfo): Promise<Folded> {
    const kept = this.#kept.get(stream);
    if (kept?.lastSeq === lastSeq) return kept.folded;
    const stored = await this.#store.since(0, { stream });
    const folded = foldStream(
      stream,
      stored.map((s) => s.event),
    );
    this.#kept.set(stream, { lastSeq: stored.at(-1)?.seq ?? lastSeq, folded });
    // The first list of a long log folds years of brews; readings go on being taken meanwhile.
    await new Promise(setImmediate);
    return folded;
  }
}

function foldStream(stream: string, events: readonly LogEvent[]): Folded {
  const parts = streamParts(stream);
  if (parts?.kind === 'kit') return { kind: 'kit', items: foldKits(events) };
  if (parts?.kind === 'beer') return { kind: 'beer', items: foldBeers(events) };
  return { kind: 'brew', line: lineOf(foldBrew(events, parts?.id ?? stream)) };
}

/** What the list shows of a brew. */
export function lineOf(state: BrewState): BrewLine {
  return {
    brew: state.brew,
    ...(state.document && { beer: state.document.beer.name, kit: state.document.kit.name }),
    ...(state.startedAtMs !== undefined && { startedAtMs: state.startedAtMs }),
    ...(state.lastAtMs !== undefined && { lastAtMs: state.lastAtMs }),
    ...(state.ended && { ended: state.ended.reason }),
    ...(state.current !== undefined && { current: state.current }),
    ...(state.next !== undefined && { next: state.next }),
    readings: state.readings.filter((r) => r.standing === 'holds').length,
    conflicts: state.conflicts.length,
  };
}

function byName(a: Shelved, b: Shelved): number {
  const [x, y] = [a.item.name, b.item.name];
  return x < y ? -1 : x > y ? 1 : a.id < b.id ? -1 : 1;
}
