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

/** A beer with the mash it is brewed with. */
export interface ShelvedBeer extends Shelved {
  readonly mash?: object;
  readonly day?: object;
  readonly kitId?: string;
}

/** Every kit ever saved, by name. */
export function foldKits(log: readonly LogEvent[]): Shelved[] {
  return foldShelf(log, 'kit', 'kit-saved')
    .map(({ save, ...shelved }) => ({
      ...shelved,
      item: save.data.kit,
    }))
    .sort(byName);
}

/** Every beer ever saved, by name. */
export function foldBeers(log: readonly LogEvent[]): ShelvedBeer[] {
  return foldShelf(log, 'beer', 'beer-saved')
    .map(({ save, ...shelved }) => {
      const { beer, ...rest } = save.data;
      return { ...shelved, item: beer, ...rest };
    })
    .sort(byName);
}

function foldShelf<T extends 'kit-saved' | 'beer-saved'>(
  log: readonly LogEvent[],
  kind: StreamKind,
  type: T,
): (Omit<Shelved, 'item'> & { readonly save: SettledEvent<T> })[] {
  const own = log.filter((e) => streamParts(e.stream)?.kind === kind);
  const holds = settle(own).events.filter((e) => e.standing === 'holds');
  const groups = [...groupBy(holds, (e) => e.event.stream)];
  return groups.flatMap(([stream, events]) => {
    const saves = events.filter((e) => e.type === type) as SettledEvent<T>[];
    const save = saves.at(-1);
    if (save === undefined) return [];
    // Saving again takes a retired thing back into use.
    const final = events.at(-1);
    return [
      {
        id: streamParts(stream)?.id ?? '',
        save,
        savedAtMs: save.readAtMs,
        who: save.event.who,
        retired: final?.type === 'kit-retired' || final?.type === 'beer-retired',
        version: saves.length,
        headId: save.headId,
      },
    ];
  });
}

function byName(a: Shelved, b: Shelved): number {
  const [x, y] = [a.item.name, b.item.name];
  return x < y ? -1 : x > y ? 1 : a.id < b.id ? -1 : 1;
}
