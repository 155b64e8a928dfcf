import { type Kit, kitBoilingPoint } from '@ladlework/brewhouse';
import type { CalibrationPoint, Probe } from '@ladlework/log';
import { useSignal } from '@preact/signals';
import { nowMs } from '../data/clock.ts';
import { rawOf } from '../data/probes.ts';
import { NumberField } from '../form/fields.tsx';
import { show } from '../units/show.ts';
import { steadyAt } from './steady.ts';

interface Props {
  readonly probe: Probe;
  readonly kit: Kit;
  readonly onChange: (change: Partial<Probe>) => void;
}

const WORD: Readonly<Record<CalibrationPoint['by'], string>> = {
  ice: 'ice water',
  boiling: 'boiling water',
  known: 'known',
};

/** What is left of a thermometer's error when it was held to ice and to the boil [K]. common practice, no source */
const SD_TWO_POINTS_K = 0.3;
const SD_ONE_POINT_K = 0.5;

/** Two fixed points, one, or an offset typed in. */
export function Calibration({ probe, kit, onChange }: Props) {
  const refusal = useSignal<string | undefined>(undefined);
  const boilC = kitBoilingPoint(kit);
  const take = (by: 'ice' | 'boiling', is: number) => {
    const steady = steadyAt(rawOf(probe.id), nowMs());
    refusal.value = steady.ok ? undefined : steady.why;
    if (!steady.ok) return;
    const others = probe.points.filter((p) => p.by !== by).slice(0, 1);
    const points = [...others, { shows: Number(steady.shows.toFixed(3)), is, by }];
    onChange({ points, sd: points.length === 2 ? SD_TWO_POINTS_K : SD_ONE_POINT_K });
  };
  return (
    <div class="calibration">
      <h4>Calibration</h4>
      {probe.points.length === 0 ? (
        <p class="soft">As bought. Hold it in stirred ice water, then in boiling water.</p>
      ) : (
        <ul>
          {probe.points.map((p) => (
            <li key={p.by}>
              Showed {show('temperature', p.shows, 2)} in {WORD[p.by]},{' '}
              {show('temperature', p.is, 2)}
            </li>
          ))}
        </ul>
      )}
      <div class="row">
        <button type="button" class="btn" onClick={() => take('ice', 0)}>
          It is in ice water
        </button>
        <button type="button" class="btn" onClick={() => take('boiling', boilC)}>
          It is in boiling water, {show('temperature', boilC, 1)} here
        </button>
        {probe.points.length > 0 && (
          <button type="button" class="btn plain" onClick={() => onChange({ points: [], sd: 1 })}>
            Forget the points
          </button>
        )}
      </div>
      <p class="caution-line">
        Boiling water and its steam scald: clip the probe to the rim before the water boils, keep
        the hand off the steam, and take it out when it has cooled.
      </p>
      {refusal.value !== undefined && (
        <p class="wrong" role="alert">
          {refusal.value}
        </p>
      )}
      <div class="fields">
        <NumberField
          label="Added to what it shows"
          path={`probes.${probe.id}.offset`}
          unit="K"
          value={probe.offset}
          min={-15}
          max={15}
          onValue={(offset) => onChange({ offset: offset ?? 0 })}
        />
      </div>
    </div>
  );
}
