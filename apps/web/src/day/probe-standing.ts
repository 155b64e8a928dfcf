/** What is said of a probe on the running day. Pure. */
import { type Kit, kitBoilingPoint } from '@ladlework/brewhouse';
import { judgeProbe, type Probe, type ProbeContext, type ProbeSample } from '@ladlework/log';
import type { DayEntry, PlanDocument, Questioned } from '@ladlework/planner';
import type { Box } from './boxes.ts';
import type { DayProbes } from './useProbes.ts';

export interface ProbeStanding {
  /** Word for it, shape for the far-off eye. */
  readonly word:
    | 'live'
    | 'never sent'
    | 'silent'
    | 'impossible'
    | 'jumped'
    | 'stuck'
    | 'not believed';
  readonly sinceMs: number | undefined;
  /** A sentence, where there is more to say. */
  readonly text: string | undefined;
  readonly newest: ProbeSample | undefined;
  /** Its value may be offered for a reading. */
  readonly offered: boolean;
}

const SAYS: Readonly<Record<'impossible' | 'jumped' | 'flat', string>> = {
  impossible: 'Shows what cannot be. The wire, or the sensor.',
  jumped: 'Believed again when it has stood two minutes, or is read by hand.',
  flat: 'Has shown the very same number for an hour. Read by hand.',
};

/**
 * How a probe stands, by its own numbers first, then by what the forecast made of them.
 *
 * @param samples calibrated, in order of time
 * @param questioned as the engine has them
 * @param told entries of this probe that the engine was given
 */
export function standingOfProbe(
  probe: Probe,
  samples: readonly ProbeSample[],
  nowMs: number,
  context: ProbeContext,
  questioned: readonly Questioned[],
  told: readonly DayEntry[],
): ProbeStanding {
  const state = judgeProbe(samples, nowMs, context);
  const newest = samples.at(-1);
  const base = { newest, offered: false, text: undefined };
  if (state.state === 'never') return { ...base, word: 'never sent', sinceMs: undefined };
  const { sinceMs } = state;
  if (state.state === 'silent') {
    return { ...base, word: 'silent', sinceMs };
  }
  if (state.state !== 'live') {
    const word = state.state === 'flat' ? 'stuck' : state.state;
    return {
      ...base,
      word,
      sinceMs,
      text: SAYS[state.state],
      offered: state.state !== 'impossible',
    };
  }
  const doubt = doubtOf(probe.id, questioned, told);
  if (doubt !== undefined) {
    const word = doubt.stuck ? 'stuck' : 'not believed';
    return { ...base, word, sinceMs: undefined, text: doubt.text, offered: true };
  }
  return { ...base, word: 'live', sinceMs, offered: true };
}

/** What was asked of the newest reading the forecast heard of this probe, if it was not taken. */
function doubtOf(
  probe: string,
  questioned: readonly Questioned[],
  told: readonly DayEntry[],
): Questioned | undefined {
  const own = told.filter((e) => e.kind === 'reading' && e.reading.probe?.id === probe);
  const last = own.reduce<DayEntry | undefined>(
    (a, b) => (a && minute(a) > minute(b) ? a : b),
    undefined,
  );
  if (last?.kind !== 'reading') return undefined;
  return questioned.find(({ entry }) => entry.kind === 'reading' && entry.id === last.id);
}

const minute = (e: DayEntry) => (e.kind === 'reading' ? e.reading.atMin : e.atMin);

/** A probe's value that the pad may stand at. */
export interface Offered {
  readonly probe: Probe;
  readonly value: number;
}

/** How every probe of the day stands. */
export function standings(
  { list, entries }: DayProbes,
  questioned: readonly Questioned[],
  kit: Kit,
  now: number,
): { readonly probe: Probe; readonly standing: ProbeStanding }[] {
  const boilingPointC = kitBoilingPoint(kit);
  return list.map(({ probe: { item }, samples }) => {
    const vessel = kit.vessels.find((v) => v.id === item.vessel);
    const context = { what: item.what, boilingPointC, ...(vessel && { brimL: vessel.brimL }) };
    const standing = standingOfProbe(item, samples, now, context, questioned, entries);
    return { probe: item, standing };
  });
}

/** What a live, believed probe shows of a box. */
export function offeredBy(
  probes: DayProbes,
  questioned: readonly Questioned[],
  document: PlanDocument | undefined,
  now: number,
  box: Box,
): Offered | undefined {
  if (document === undefined || probes.list.length === 0) return undefined;
  const found = standings(probes, questioned, document.kit, now).find(
    ({ probe, standing }) =>
      probe.vessel === box.vessel && probe.what === box.what && standing.word === 'live',
  );
  const value = found?.standing.newest?.value;
  return found === undefined || value === undefined ? undefined : { probe: found.probe, value };
}
