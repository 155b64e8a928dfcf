/** Kits, beers and probes: what was saved last, under each id. */
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
  return shelve(log, 'kit', 'kit-saved', (saves) => {
    const save = saves.at(-1);
    return save && { item: save.data.kit };
  });
}

/** Every beer ever saved, by name. */
export function foldBeers(log: readonly LogEvent[]): ShelvedBeer[] {
  return shelve(log, 'beer', 'beer-saved', (saves) => {
    const save = saves.at(-1);
    if (save === undefined) return undefined;
    const { beer, ...rest } = save.data;
    return { item: beer, ...rest };
  });
}

/**
 * One shelf: for each stream of a kind what its saves say, by name.
 *
 * @param read what is wanted of the saves that stand, oldest first; undefined when there are none
 */
export function shelve<T extends SaveType, R extends { readonly item: Named }>(
  log: readonly LogEvent[],
  kind: StreamKind,
  type: T,
  read: (saves: readonly SettledEvent<T>[]) => R | undefined,
): (Omit<Shelved, 'item'> & R)[] {
  const own = log.filter((e) => streamParts(e.stream)?.kind === kind);
  const holds = settle(own).events.filter((e) => e.standing === 'holds');
  const groups = [...groupBy(holds, (e) => e.event.stream)];
  return groups
    .flatMap(([stream, events]) => {
      const saves = events.filter((e) => e.type === type) as SettledEvent<T>[];
      const save = saves.at(-1);
      const saved = read(saves);
      if (save === undefined || saved === undefined) return [];
      // Saving again takes a retired thing back into use.
      const final = events.at(-1);
      return [
        {
          ...saved,
          id: streamParts(stream)?.id ?? '',
          savedAtMs: save.readAtMs,
          who: save.event.who,
          retired: final !== undefined && RETIRED.has(final.type),
          version: saves.length,
          headId: save.headId,
        },
      ];
    })
    .sort(byName);
}

type SaveType = 'kit-saved' | 'beer-saved' | 'probe-saved';
const RETIRED: ReadonlySet<string> = new Set(['kit-retired', 'beer-retired', 'probe-retired']);

function byName(
  a: { readonly id: string; readonly item: Named },
  b: { readonly id: string; readonly item: Named },
): number {
  const [x, y] = [a.item.name, b.item.name];
  return x < y ? -1 : x > y ? 1 : a.id < b.id ? -1 : 1;
}
