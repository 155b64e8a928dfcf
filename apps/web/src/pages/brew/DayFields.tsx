import type { Kit } from '@ladlework/brewhouse';
import type { Day } from '@ladlework/planner';
import { formatClock } from '@ladlework/quantity';
import { ClockField } from '../../form/ClockField.tsx';
import { QuantityField, Ticks } from '../../form/fields.tsx';

interface Props {
  readonly day: Day;
  readonly kit: Kit;
  readonly onDay: (day: Day) => void;
  /** The brew that begins the day, when this one comes after it. */
  readonly startsWith: string | undefined;
}

/** When it begins, how warm everything is, and who is there. */
export function DayFields({ day, kit, onDay, startsWith }: Props) {
  const optional =
    (key: 'airC' | 'kettleC' | 'tunC' | 'preheatTunL') => (value: number | undefined) => {
      const { [key]: _old, ...rest } = day;
      onDay(value === undefined ? rest : { ...rest, [key]: value });
    };
  return (
    <>
      <div class="fields">
        {startsWith === undefined ? (
          <ClockField
            label="Start"
            path="day.startMin"
            value={day.startMin}
            onValue={(startMin) => startMin !== undefined && onDay({ ...day, startMin })}
          />
        ) : (
          <p class="hint">
            The day begins at {formatClock(day.startMin)} with {startsWith}; this brew begins when
            the timetable has room for it.
          </p>
        )}
        <QuantityField
          label="Liquor comes at"
          path="day.liquorC"
          kind="temperature"
          value={day.liquorC}
          min={0}
          max={100}
          onValue={(liquorC) => liquorC !== undefined && onDay({ ...day, liquorC })}
        />
        <QuantityField
          label="Grist"
          path="day.gristC"
          kind="temperature"
          value={day.gristC}
          min={-20}
          max={60}
          onValue={(gristC) => gristC !== undefined && onDay({ ...day, gristC })}
        />
        <QuantityField
          label="Air"
          path="day.airC"
          kind="temperature"
          value={day.airC}
          min={-20}
          max={50}
          optional
          empty="as usual for the kit"
          onValue={optional('airC')}
        />
        <QuantityField
          label="Liquor already hot"
          path="day.kettleC"
          kind="temperature"
          value={day.kettleC}
          min={0}
          max={100}
          optional
          empty="no, heated on the day"
          onValue={optional('kettleC')}
        />
        <QuantityField
          label="Tun wall"
          path="day.tunC"
          kind="temperature"
          value={day.tunC}
          min={-20}
          max={100}
          optional
          empty="as the air"
          onValue={optional('tunC')}
        />
        <QuantityField
          label="Warm the tun with"
          path="day.preheatTunL"
          kind="volume"
          value={day.preheatTunL}
          min={0}
          max={2000}
          optional
          empty="nothing"
          onValue={optional('preheatTunL')}
        />
      </div>
      <Ticks
        label="Hands at work"
        values={day.hands ?? kit.hands.map((h) => h.id)}
        options={kit.hands.map((h) => ({ value: h.id, text: `${h.id}, ${h.name}` }))}
        onValues={(hands) => onDay({ ...day, hands })}
      />
    </>
  );
}
