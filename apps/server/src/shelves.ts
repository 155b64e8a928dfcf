/** Folded lists, kept per stream; a stream is folded again only when it has grown. */
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
import type { EventStore } from '@ladlework/store';

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
  readonly #kept = new Map<string, Folded>();
  /** Streams that have grown since they were folded. */
  readonly #grown = new Set<string>();
  /** Up to which number of the log that is known. */
  #upTo = 0;
  /** One reader at a time: the second finds what the first has folded. */
  #turn: Promise<unknown> = Promise.resolve();

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

  #folded(kind: Folded['kind']): Promise<Folded[]> {
    const own = this.#turn.then(() => this.#refresh(kind));
    this.#turn = own.catch(() => undefined);
    return own;
  }

  async #refresh(kind: Folded['kind']): Promise<Folded[]> {
    await this.#lookForGrowth();
    for (const stream of this.#grown) {
      if (streamParts(stream)?.kind !== kind) continue;
      this.#grown.delete(stream);
      const stored = await this.#store.since(0, { stream });
      this.#kept.set(
        stream,
        foldStream(
          stream,
          stored.map((s) => s.event),
        ),
      );
      // The first list of a long log folds years of brews; readings go on being taken meanwhile.
      await new Promise(setImmediate);
    }
    return [...this.#kept.values()].filter((f) => f.kind === kind);
  }

  async #lookForGrowth(): Promise<void> {
    if (this.#upTo === 0) {
      // Before the streams are listed: what comes in between is looked at once more, not missed.
      const last = await this.#store.last();
      for (const { stream } of await this.#store.streams()) this.#grown.add(stream);
      this.#upTo = last;
      return;
    }
    const fresh = await this.#store.since(this.#upTo);
    for (const { event } of fresh) this.#grown.add(event.stream);
    this.#upTo = fresh.at(-1)?.seq ?? this.#upTo;
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
