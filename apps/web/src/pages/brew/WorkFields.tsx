import type { Kit } from '@ladlework/brewhouse';
import { type Day, TYPICAL_WORK, type Work } from '@ladlework/planner';
import { useId } from 'preact/hooks';
import { useTyping } from '../../form/draft.ts';
import { Pick, QuantityField } from '../../form/fields.tsx';
import { show } from '../../units/show.ts';

interface Props {
  readonly day: Day;
  readonly kit: Kit;
  readonly onDay: (day: Day) => void;
}

type Minutes =
  | 'lauterRestMin'
  | 'boilMin'
  | 'standMin'
  | 'pitchMin'
  | 'rinseMin'
  | 'sanitiseMin'
  | 'cleanTunMin'
  | 'cleanKettleMin'
  | 'tidyMin';

/** Minutes with the range the brew file allows. */
const MINUTES: readonly (readonly [Minutes, string, number, number])[] = [
  ['lauterRestMin', 'Lauter rest', 0, 120],
  ['boilMin', 'Wort boil', 1, 300],
  ['standMin', 'Whirlpool and stand', 0, 240],
  ['pitchMin', 'Oxygen and pitch', 0, 120],
  ['rinseMin', 'Rinse a pot', 0, 60],
  ['sanitiseMin', 'Sanitise the tank', 0, 240],
  ['cleanTunMin', 'Clean the tun', 0, 240],
  ['cleanKettleMin', 'Clean kettle, cooler, hoses', 0, 240],
  ['tidyMin', 'Floor, log, close', 0, 240],
];
/** Most additions a brew file takes, and the longest before the end [min]. */
const MOST_HOPS = 12;
const LONGEST_HOP_MIN = 300;

/** Sparge, run-off, boil, knock-out and cleaning; what stays empty is as on a typical day. */
export function WorkFields({ day, kit, onDay }: Props) {
  const work = day.work ?? {};
  const set = <K extends keyof Work>(key: K, value: Work[K] | undefined) => {
    const { [key]: _old, ...rest } = work;
    const next = value === undefined ? rest : { ...rest, [key]: value };
    const { work: _work, ...free } = day;
    onDay(Object.keys(next).length === 0 ? free : { ...free, work: next });
  };
  const vessels = (roles: readonly string[]) => [
    { value: '', text: 'the best place' },
    ...kit.vessels
      .filter((v) => roles.includes(v.role))
      .map((v) => ({ value: v.id, text: v.name })),
  ];
  return (
    <details class="certificate">
      <summary>
        {Object.keys(work).length === 0 ? (
          <span class="soft">as on a typical day</span>
        ) : (
          <>
            Boil {show('duration', work.boilMin ?? TYPICAL_WORK.boilMin)}{' '}
            <span class="soft">changed for this brew</span>
          </>
        )}
      </summary>
      <div class="fields">
        <QuantityField
          label="Sparge liquor per grist"
          path="day.work.spargeLPerKg"
          kind="ratio"
          value={work.spargeLPerKg}
          min={0}
          max={10}
          near={TYPICAL_WORK.spargeLPerKg}
          optional
          empty={show('ratio', TYPICAL_WORK.spargeLPerKg)}
          onValue={(v) => set('spargeLPerKg', v)}
        />
        <QuantityField
          label="Sparge liquor on the bed"
          path="day.work.spargeC"
          kind="temperature"
          value={work.spargeC}
          min={70}
          max={80}
          optional
          empty={show('temperature', TYPICAL_WORK.spargeC, 0)}
          onValue={(v) => set('spargeC', v)}
        />
        <Pick
          label="Sparge liquor waits in"
          value={work.parkIn ?? ''}
          options={vessels(['liquor-tank', 'fermenter', 'pot', 'kettle'])}
          onValue={(id) => set('parkIn', id === '' ? undefined : id)}
        />
        <Pick
          label="Wort goes into"
          value={work.fermenter ?? ''}
          options={[
            { value: '', text: 'the first tank of the kit' },
            ...vessels(['fermenter']).slice(1),
          ]}
          onValue={(id) => set('fermenter', id === '' ? undefined : id)}
        />
        {MINUTES.map(([key, label, min, max]) => (
          <QuantityField
            key={key}
            label={label}
            path={`day.work.${key}`}
            kind="duration"
            value={work[key]}
            min={min}
            max={max}
            optional
            empty={show('duration', TYPICAL_WORK[key])}
            onValue={(v) => set(key, v)}
          />
        ))}
        <Hops value={work.hopsBeforeEndMin} onValue={(v) => set('hopsBeforeEndMin', v)} />
      </div>
    </details>
  );
}

/** Minutes before the end of the boil, as "60, 10". */
function Hops({
  value,
  onValue,
}: {
  value: readonly number[] | undefined;
  onValue: (value: readonly number[] | undefined) => void;
}) {
  const id = useId();
  const { text, type, leave } = useTyping('day.work.hopsBeforeEndMin');
  const error = text === undefined ? undefined : hopsError(text);
  return (
    <div class={error === undefined ? 'field' : 'field bad'}>
      <label for={id}>Hops, minutes before the end</label>
      <div class="control">
        <input
          id={id}
          type="text"
          autocomplete="off"
          placeholder={TYPICAL_WORK.hopsBeforeEndMin.join(', ')}
          value={text ?? value?.join(', ') ?? ''}
          aria-invalid={error !== undefined}
          aria-describedby={error === undefined ? undefined : `${id}-note`}
          onInput={(event) => {
            const raw = event.currentTarget.value;
            const fits = hopsError(raw) === undefined;
            type(raw, fits);
            if (fits) onValue(raw.trim() === '' ? undefined : minutesIn(raw));
          }}
          onBlur={leave}
        />
        <span class="unit">min</span>
      </div>
      {error !== undefined && (
        <p class="field-error" id={`${id}-note`}>
          {error}
        </p>
      )}
    </div>
  );
}

const minutesIn = (text: string): number[] =>
  text
    .split(/[,;\s]+/)
    .filter(Boolean)
    .map(Number);

function hopsError(text: string): string | undefined {
  const minutes = minutesIn(text);
  const wrong = minutes.some((m) => !Number.isFinite(m) || m < 0 || m > LONGEST_HOP_MIN);
  return wrong || minutes.length > MOST_HOPS
    ? `Hops: "${text}" is no list of minutes; allowed: up to ${MOST_HOPS} numbers from 0 to ${LONGEST_HOP_MIN} min, as "60, 10".`
    : undefined;
}
