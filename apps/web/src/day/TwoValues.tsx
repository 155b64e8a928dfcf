import { type Kit, nameIn } from '@ladlework/brewhouse';
import { type BrewState, type Conflict, choiceGate, type ReadingState } from '@ladlework/log';
import { record } from '../data/house.ts';
import { attempt } from '../pages/trouble.tsx';
import { clockOf } from '../units/show.ts';
import { readingText } from './DayLog.tsx';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit | undefined;
}

/** Boxes that two people filled in differently: both values, which counts, and the way to change it. */
export function TwoValues({ brew, kit }: Props) {
  if (brew.conflicts.length === 0) return null;
  return (
    <section class="block">
      <h2>Two values for one box</h2>
      <ul class="twovalues">
        {brew.conflicts.map((c) => (
          <li key={`${c.what} ${c.chosen}`}>
            {c.what === 'reading' ? (
              <TwoReadings brew={brew} kit={kit} conflict={c} />
            ) : (
              <TwoTaps brew={brew} conflict={c} />
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

type Of<W extends Conflict['what']> = Extract<Conflict, { readonly what: W }>;

function TwoReadings({ brew, kit, conflict }: Props & { conflict: Of<'reading'> }) {
  const of = (id: string) => brew.readings.find((r) => r.eventId === id);
  const chosen = of(conflict.chosen);
  const others = conflict.others.map(of).filter((r) => r !== undefined);
  if (chosen === undefined) return null;
  const vessel = kit === undefined ? conflict.vessel : nameIn(kit, conflict.vessel);
  const said = (r: ReadingState) =>
    `${readingText(r.what, r.value)} (${r.who}, ${clockOf(r.atMs)}${r.places === 3 ? ', three places' : ''})`;
  return (
    <>
      <p>
        {vessel}: <b>{said(chosen)}</b> counts
        {conflict.chosenBy === undefined
          ? `, ${ruleOf(chosen, others)}`
          : `, said ${conflict.chosenBy}`}
        . Kept beside it: {others.map(said).join(', ')}.
      </p>
      <div class="row noprint">
        {others.map((r) => (
          <button
            key={r.eventId}
            type="button"
            class="key"
            onClick={() =>
              attempt('write down which counts', () =>
                record({
                  stream: brew.stream,
                  type: 'gate-confirmed',
                  data: { code: choiceGate(r.eventId) },
                }),
              )
            }
          >
            Let {readingText(r.what, r.value)} of {r.who} count
          </button>
        ))}
      </div>
    </>
  );
}

/** Why the log chose as it did. */
function ruleOf(chosen: ReadingState, others: readonly ReadingState[]): string {
  if (others.every((r) => r.places < chosen.places)) return 'being read in three places';
  if (others.every((r) => chosen.settled && !r.settled)) return 'having settled';
  return 'being the later';
}

function TwoTaps({
  brew,
  conflict,
}: {
  brew: BrewState;
  conflict: Of<'move-begun' | 'move-done'>;
}) {
  const move = brew.moves.find((m) => m.moveId === conflict.moveId);
  const summary = brew.planSummary?.moves.find((m) => m.id === conflict.moveId);
  const marks = (conflict.what === 'move-begun' ? move?.begun : move?.done) ?? [];
  const at = (id: string) => {
    const mark = marks.find((m) => m.eventId === id);
    return mark === undefined ? '' : `${clockOf(mark.atMs)} (${mark.who})`;
  };
  const name = summary === undefined ? conflict.moveId : summaryText(summary, brew);
  return (
    <p>
      {name}, {conflict.what === 'move-begun' ? 'begun' : 'done'}: <b>{at(conflict.chosen)}</b>{' '}
      counts, being the earlier. Kept beside it: {conflict.others.map(at).join(', ')}.
    </p>
  );
}
