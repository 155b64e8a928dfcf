/** Kits and beers: what was saved last, under each id. */
import type { LogEvent, Named, StreamKind } from './event.ts';
import { streamParts } from './event.ts';
import { groupBy } from './group.ts';
import { type SettledEvent, settle } from './settle.ts';

/** A kit or a beer as it stands now. */
export interface Shelved {
  readonly id: string;
  readonly item: Named;
  readonly savedAtMs: number;
  readonly who: string;
  /** Retired things are kept: old brews point to them. */
  readonly retired: boolean;
  /** How often it was saved. */
  readonly version: number;
  /** Event of the latest save, to name when undoing it. */
  readonly headId: string;
}

/** Every kit ever saved, by name. */
export function foldKits(log: readonly LogEvent[]): Shelved[] {
  return foldShelf(log, 'kit', (e) => (e.type === 'kit-saved' ? e.data.kit : undefined));
}

/** Every beer ever saved, by name. */
export function foldBeers(log: readonly LogEvent[]): Shelved[] {
  return foldShelf(log, 'beer', (e) => (e.type === 'beer-saved' ? e.data.beer : undefined));
}

function foldShelf(
  log: readonly LogEvent[],
  kind: StreamKind,
  itemOf: (e: SettledEvent) => Named | undefined,
): Shelved[] {
  const own = log.filter((e) => streamParts(e.stream)?.kind === kind);
  const holds = settle(own).events.filter((e) => e.standing === 'holds');
  const shelf: Shelved[] = [];
  for (const [stream, events] of groupBy(holds, (e) => e.event.stream)) {
    const id = streamParts(stream)?.id ?? '';
    const saves = events.filter((e) => itemOf(e) !== undefined);
    const last = saves.at(-1);
    const item = last && itemOf(last);
    if (last === undefined || item === undefined) continue;
    // Saving again takes a retired thing back into use.
    const final = events.at(-1);
    shelf.push({
      id,
      item,
      savedAtMs: last.readAtMs,
      who: last.event.who,
      retired: final?.type === 'kit-retired' || final?.type === 'beer-retired',
      version: saves.length,
      headId: last.headId,
    });
  }
  return shelf.sort((a, b) => {
    const [x, y] = [a.item.name, b.item.name];
    return x < y ? -1 : x > y ? 1 : a.id < b.id ? -1 : 1;
  });
}
