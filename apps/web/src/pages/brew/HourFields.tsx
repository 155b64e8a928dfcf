import type { Hand, Kit } from '@ladlework/brewhouse';
import type { Break, Day, DayEvent } from '@ladlework/planner';
import { ClockField } from '../../form/ClockField.tsx';
import { NumberField, Pick, QuantityField, TextField } from '../../form/fields.tsx';
import { Remove } from '../kit/Remove.tsx';

interface Props {
  readonly day: Day;
  readonly kit: Kit;
  readonly onDay: (day: Day) => void;
  readonly onHands: (hands: readonly Hand[]) => void;
}

/** A name is kept for what stands in a list; the rest by position. */
const at = <T,>(list: readonly T[], k: number, next: T): T[] =>
  list.map((x, i) => (i === k ? next : x));
const without = <T,>(list: readonly T[], k: number): T[] => list.filter((_, i) => i !== k);

/** What has its own hour: who is there when, deliveries, breaks, and when all is to be done. */
export function HourFields({ day, kit, onDay, onHands }: Props) {
  const clock = (minute: number | undefined) =>
    minute === undefined ? undefined : (day.startMin + minute) % 1440;
  /** The next such time after the day begins. */
  const minute = (clockMin: number) => (clockMin - day.startMin + 1440) % 1440;
  const here = day.hands ?? kit.hands.map((h) => h.id);
  const optional = (key: 'finishByMin' | 'wishFinishMin') => (clockMin: number | undefined) => {
    const { [key]: _old, ...rest } = day;
    onDay(clockMin === undefined ? rest : { ...rest, [key]: minute(clockMin) });
  };
  const hours = (id: string, key: 'fromMin' | 'untilMin') => (clockMin: number | undefined) =>
    onHands(
      kit.hands.map((hand) => {
        if (hand.id !== id) return hand;
        const { [key]: _old, ...rest } = hand;
        return clockMin === undefined ? rest : { ...rest, [key]: minute(clockMin) };
      }),
    );
  const events = day.events ?? [];
  const breaks = day.breaks ?? [];
  const onEvents = (list: readonly DayEvent[]) => onDay({ ...day, events: list });
  const onBreaks = (list: readonly Break[]) => onDay({ ...day, breaks: list });
  return (
    <>
      <h3>Hours</h3>
      <div class="fields">
        {kit.hands
          .filter((h) => here.includes(h.id))
          .flatMap((h) => [
            <ClockField
              key={`${h.id} from`}
              label={`${h.name} comes at`}
              path={`hours.${h.id}.from`}
              value={clock(h.fromMin)}
              optional
              empty="when it begins"
              onValue={hours(h.id, 'fromMin')}
            />,
            <ClockField
              key={`${h.id} until`}
              label={`${h.name} leaves at`}
              path={`hours.${h.id}.until`}
              value={clock(h.untilMin)}
              optional
              empty="when all is done"
              onValue={hours(h.id, 'untilMin')}
            />,
          ])}
        <ClockField
          label="Must be done by"
          path="day.finishByMin"
          value={clock(day.finishByMin)}
          optional
          empty="no limit"
          hint="A day that cannot be done by then is told so, with what clashes."
          onValue={optional('finishByMin')}
        />
        <ClockField
          label="Wished to be done by"
          path="day.wishFinishMin"
          value={clock(day.wishFinishMin)}
          optional
          empty="no wish"
          hint="Its chance is worked out."
          onValue={optional('wishFinishMin')}
        />
      </div>
      {events.map((event, k) => (
        <div class="thing" key={`event ${k + 1} of ${events.length}`}>
          <div class="fields">
            <TextField
              label="What comes"
              path={`day.events.${k}.name`}
              value={event.name}
              onValue={(name) => onEvents(at(events, k, { ...event, name }))}
            />
            <ClockField
              label={`${event.name} at`}
              path={`day.events.${k}.at`}
              value={clock(event.atMin)}
              onValue={(c) =>
                c !== undefined && onEvents(at(events, k, { ...event, atMin: minute(c) }))
              }
            />
            <QuantityField
              label="It takes"
              path={`day.events.${k}.minutes`}
              kind="duration"
              value={event.minutes}
              min={1}
              max={480}
              onValue={(minutes) =>
                minutes !== undefined && onEvents(at(events, k, { ...event, minutes }))
              }
            />
            <NumberField
              label="Pairs of hands"
              path={`day.events.${k}.hands`}
              value={event.hands}
              min={0}
              max={10}
              onValue={(hands) =>
                hands !== undefined && onEvents(at(events, k, { ...event, hands }))
              }
            />
            <Remove name={event.name} onRemove={() => onEvents(without(events, k))} />
          </div>
        </div>
      ))}
      {breaks.map((pause, k) => (
        <div class="thing" key={`break ${k + 1} of ${breaks.length}`}>
          <div class="fields">
            <Pick
              label="Break of"
              value={pause.hand}
              options={kit.hands
                .filter((h) => here.includes(h.id))
                .map((h) => ({ value: h.id, text: h.name }))}
              onValue={(hand) => onBreaks(at(breaks, k, { ...pause, hand }))}
            />
            <QuantityField
              label="Break lasts"
              path={`day.breaks.${k}.minutes`}
              kind="duration"
              value={pause.minutes}
              min={1}
              max={240}
              onValue={(minutes) =>
                minutes !== undefined && onBreaks(at(breaks, k, { ...pause, minutes }))
              }
            />
            <ClockField
              label="Not before"
              path={`day.breaks.${k}.from`}
              value={clock(pause.fromMin)}
              onValue={(c) =>
                c !== undefined && onBreaks(at(breaks, k, { ...pause, fromMin: minute(c) }))
              }
            />
            <ClockField
              label="Over by"
              path={`day.breaks.${k}.until`}
              value={clock(pause.untilMin)}
              onValue={(c) =>
                c !== undefined && onBreaks(at(breaks, k, { ...pause, untilMin: minute(c) }))
              }
            />
            <Remove name={`break ${k + 1}`} onRemove={() => onBreaks(without(breaks, k))} />
          </div>
        </div>
      ))}
      <div class="row">
        <button
          type="button"
          class="btn"
          onClick={() =>
            onEvents([
              ...events,
              { name: 'Delivery', atMin: minute(11 * 60), minutes: 20, hands: 1 },
            ])
          }
        >
          Add a delivery
        </button>
        <button
          type="button"
          class="btn"
          onClick={() =>
            onBreaks([
              ...breaks,
              {
                hand: here[0] ?? kit.hands[0]?.id ?? '',
                minutes: 30,
                fromMin: minute(12 * 60),
                untilMin: minute(14 * 60),
              },
            ])
          }
        >
          Add a break
        </button>
      </div>
    </>
  );
}
