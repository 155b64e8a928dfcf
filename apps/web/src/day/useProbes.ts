/** The probes of a brew's kit on its running day: what they sent, and what the forecast is told. */

import { kitBoilingPoint } from '@ladlework/brewhouse';
import { probeEntries } from '@ladlework/contract';
import type { BrewState, ProbeSample, ShelvedProbe } from '@ladlework/log';
import type { DayEntry, PlanDocument } from '@ladlework/planner';
import { useEffect, useMemo } from 'preact/hooks';
import { histories, loadHistory, probes, samplesSince, seriesOf } from '../data/probes.ts';
import { network } from '../data/sync.ts';

/** The forecast hears of probes each full five minutes of the clock. */
const SLOT_MS = 300_000;
/** What a probe is judged by while the day runs: an hour, for one that stands still. */
const JUDGED_MS = 3_660_000;

export interface DayProbe {
  readonly probe: ShelvedProbe;
  /** Calibrated, of the last hour. */
  readonly samples: readonly ProbeSample[];
}

export interface DayProbes {
  readonly list: readonly DayProbe[];
  readonly entries: readonly DayEntry[];
}

export function useProbes(
  brew: BrewState,
  document: PlanDocument | undefined,
  now: number,
): DayProbes {
  const kit = document?.kit;
  const own = probes.value.filter(
    (p) => p.item.kit === kit?.id && kit.vessels.some((v) => v.id === p.item.vessel),
  );
  const ids = own.map((p) => `${p.id}.${p.version}`).join(' ');
  const start = brew.startedAtMs;
  const here = network.value.state === 'here';
  useEffect(() => {
    if (!here || start === undefined) return;
    for (const { id } of own) void loadHistory(id, start - JUDGED_MS);
  }, [ids, start, here]);
  const slot = Math.floor(now / SLOT_MS);
  const known = histories.value;
  const ended = brew.ended?.atMs;
  const entries = useMemo(
    () =>
      kit === undefined || start === undefined
        ? []
        : probeEntries(
            brew,
            // A calibration of today does not change what was read before it.
            own.map((p) => ({ probe: p.item, samples: seriesOf(p, start) })),
            kitBoilingPoint(kit),
            slot * SLOT_MS,
          ),
    [ids, start, ended, slot, known, kit?.id],
  );
  return {
    list: own.map((probe) => ({ probe, samples: samplesSince(probe, now - JUDGED_MS) })),
    entries,
  };
}
