import type { Kit } from '@ladlework/brewhouse';
import type { Day } from '@ladlework/planner';
import { formatClock, parseClock } from '@ladlework/quantity';
import { useId } from 'preact/hooks';
import { useTyping } from '../../form/draft.ts';
import { QuantityField, Ticks } from '../../form/fields.tsx';

/** When it begins, how warm everything is, and who is there. */
export function DayFields({ day, kit, onDay }: { day: Day; kit: Kit; onDay: (day: Day) => void }) {
  const optional =
    (key: 'airC' | 'kettleC' | 'tunC' | 'preheatTunL') => (value: number | undefined) => {
      const { [key]: _old, ...rest } = day;
      onDay(value === undefined ? rest : { ...rest, [key]: value });
    };
  return (
    <>
      <div class="fields">
        <ClockField value={day.startMin} onValue={(startMin) => onDay({ ...day, startMin })} />
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

function ClockField({ value, onValue }: { value: number; onValue: (min: number) => void }) {
  const id = useId();
  const { text, type, leave } = useTyping('day.startMin');
  const read = text === undefined ? undefined : parseClock(text, { field: 'Start' });
  const error = read !== undefined && !read.ok ? read.error.message : undefined;
  return (
    <div class={error === undefined ? 'field' : 'field bad'}>
      <label for={id}>Start</label>
      <div class="control">
        <input
          id={id}
          type="text"
          autocomplete="off"
          value={text ?? formatClock(value)}
          aria-invalid={error !== undefined}
          aria-describedby={error === undefined ? undefined : `${id}-note`}
          onInput={(event) => {
            const raw = event.currentTarget.value;
            const now = parseClock(raw, { field: 'Start' });
            type(raw, now.ok);
            if (now.ok) onValue(now.value);
          }}
          onBlur={leave}
        />
      </div>
      {error !== undefined && (
        <p class="field-error" id={`${id}-note`}>
          {error}
        </p>
      )}
    </div>
  );
}
