/** What the boil calls for: hops on their minute, and its end. Pure. */
import type { BrewState } from '@ladlework/log';
import type { WortDay } from '@ladlework/planner';
import { hopMoveId } from './steps.ts';
import { hopsOfBoil } from './timed.ts';

export interface WortAlarm {
  /** Names hop or end and stage, so that one acknowledged stays acknowledged over a reload. */
  readonly key: string;
  readonly stage: 'soon' | 'now';
  readonly dueAtMs: number;
  /** What goes in; nothing for the end of the boil. */
  readonly hops: readonly { readonly name: string; readonly kg: number }[];
}

/** Minutes ahead at which it is announced. [field.md section 5] */
const WARN_MIN = 2;

/**
 * Alarms of the boil that ring now, the first due first.
 *
 * @param day what is known of the wort
 * @param brew what was tapped; hops that are in ring no more
 * @param nowMs the brewhouse's time
 * @param seen keys already acknowledged
 */
export function wortAlarms(
  day: Pick<WortDay, 'at' | 'boil'>,
  brew: Pick<BrewState, 'moves' | 'startedAtMs'>,
  nowMs: number,
  seen: ReadonlySet<string>,
): WortAlarm[] {
  const { boil } = day;
  const startMs = brew.startedAtMs;
  if (boil.begunMin === undefined || startMs === undefined) return [];
  if (day.at !== 'boil' && day.at !== 'stand') return [];
  const done = new Set(brew.moves.flatMap((m) => (m.doneAtMs === undefined ? [] : [m.moveId])));
  const calls = [
    ...hopsOfBoil(boil.hops).map((h) => ({
      id: hopMoveId(h.boilMin),
      atMin: h.atMin,
      hops: h.names,
    })),
    { id: 'boil-wort', atMin: boil.endMin.likely, hops: [] },
  ];
  return calls
    .flatMap(({ id, atMin, hops }): WortAlarm[] => {
      const dueAtMs = startMs + atMin * 60_000;
      const stage =
        nowMs >= dueAtMs ? 'now' : nowMs >= dueAtMs - WARN_MIN * 60_000 ? 'soon' : undefined;
      if (stage === undefined || done.has(id)) return [];
      const key = `${id}.${boil.begunMin}.${stage}`;
      return seen.has(key) ? [] : [{ key, stage, dueAtMs, hops }];
    })
    .sort((a, b) => a.dueAtMs - b.dueAtMs);
}
