import { type Kit, nameIn } from '@ladlework/brewhouse';
import { type BrewState, PROBE_KIND } from '@ladlework/log';
import type { Questioned } from '@ladlework/planner';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, inPair, show } from '../units/show.ts';
import { takeFromProbe } from './actions.ts';
import { FirmButton } from './FirmButton.tsx';
import { landingRead } from './miss.ts';
import { type ProbeStanding, standings } from './probe-standing.ts';
import type { DayProbes } from './useProbes.ts';

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit;
  readonly probes: DayProbes;
  readonly questioned: readonly Questioned[];
  readonly returning: string | undefined;
  readonly now: number;
}

/** Shape beside the word, so that neither colour nor reading is needed from across the room. */
const MARK: Readonly<Record<ProbeStanding['word'], string>> = {
  live: '●',
  'never sent': '○',
  silent: '○',
  impossible: '✕',
  jumped: '?',
  stuck: '?',
  'not believed': '?',
};

/** What the probes show, each with how it stands; one tap takes it for a reading. */
export function ProbeStrip({ brew, kit, probes, questioned, returning, now }: Props) {
  if (probes.list.length === 0) return null;
  return (
    <section class="probes" aria-label="Probes">
      {standings(probes, questioned, kit, now).map(({ probe, standing }) => {
        const { word, newest, sinceMs, text, offered } = standing;
        const kind = PROBE_KIND[probe.what];
        const value = newest === undefined ? undefined : show(kind, newest.value, 1);
        const fresh = word !== 'silent' && word !== 'never sent';
        return (
          <div class={`probe ${fresh ? '' : 'gone'}`} key={probe.id}>
            <span class="probe-name">
              {nameIn(kit, probe.vessel)}
              <small>{probe.name}</small>
            </span>
            <output class="probe-value">{fresh ? value : '–'}</output>
            <span class="probe-state" role={word === 'live' ? undefined : 'status'}>
              <span aria-hidden="true">{MARK[word]}</span> {word}
              {word === 'silent' && sinceMs !== undefined && (
                <>
                  {' '}
                  since {clockOf(sinceMs)}, last {value}
                </>
              )}
              {text !== undefined && <small>{inPair(text)}</small>}
            </span>
            {offered && newest !== undefined && (
              <FirmButton
                class="key"
                writes="reading"
                label={`Take ${value} of ${probe.name} as a reading`}
                onFirm={() =>
                  attempt('write the reading down', () =>
                    takeFromProbe(
                      brew,
                      probe,
                      newest.value,
                      landingRead(brew, probe.vessel, returning, now),
                    ),
                  )
                }
              >
                Take {value}
              </FirmButton>
            )}
          </div>
        );
      })}
    </section>
  );
}
