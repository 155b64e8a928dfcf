import { nameIn } from '@ladlework/brewhouse';
import { type BrewState, checkReading, type WortPoint } from '@ladlework/log';
import type { PlanDocument, WortDay } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { FirmButton } from '../day/FirmButton.tsx';
import { NumberPad, type PadReading } from '../day/NumberPad.tsx';
import { attempt } from '../pages/trouble.tsx';
import { pair } from '../shell/settings.ts';
import { readWort } from './actions.ts';
import {
  expectedOf,
  nextBox,
  readsAt,
  WORT_BOXES,
  type WortBox,
  type WortFigure,
  withItsTwin,
} from './boxes.ts';
import { flowText } from './words.ts';

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly day: WortDay;
  readonly point: WortPoint;
  readonly nowMin: number;
}

/** A faster run-off than this is a slip of the finger [L/min]. */
const FASTEST_L_MIN = 500;

/** The pad for the wort: it asks for one figure after the other and stands at what is expected of it. */
export function WortPad({ brew, document, day, point, nowMin }: Props) {
  const reads = readsAt(brew, point);
  const asked = nextBox(point, reads);
  const chosen = useSignal<WortFigure | undefined>(undefined);
  const choosing = useSignal(false);
  const refusal = useSignal<string | undefined>(undefined);
  // A box that was picked holds until it was read, or the wort has gone on.
  useEffect(() => {
    chosen.value = undefined;
    choosing.value = false;
    refusal.value = undefined;
  }, [point, reads.length, chosen, choosing, refusal]);
  const boxes = WORT_BOXES[point];
  const box = boxes.find((b) => b.figure === chosen.value) ?? asked;

  const read = (reading: PadReading) => {
    refusal.value = refusalOf(box, reading, document, point);
    if (refusal.value !== undefined) return;
    void attempt('write the reading down', () =>
      readWort(
        brew,
        point,
        withItsTwin(box.figure, reading.value, point, reads),
        box.what === 'ph' ? `pH ${reading.text}` : `${reading.text} ${reading.unit}`,
      ),
    );
  };
  if (choosing.value)
    return (
      <div class="padside">
        <section class="pad-choice" aria-label="What to read">
          {boxes.map((b) => (
            <FirmButton
              key={b.figure}
              class="key"
              pressed={b === box}
              onFirm={() => {
                chosen.value = b.figure;
                choosing.value = false;
              }}
            >
              {b.text}
            </FirmButton>
          ))}
        </section>
      </div>
    );
  return (
    <div class="padside">
      <NumberPad
        keptAs={`${brew.brew}.wort.${point}.${box.figure}`}
        title={box.text}
        what={box.what}
        expected={expectedOf(day, point, box.figure, reads, {
          nowMin,
          lastDipMin: lastDipMin(brew, day, nowMin),
          ...(document.beer.target?.wortPh !== undefined && {
            wortPh: document.beer.target.wortPh,
          }),
        })}
        verb="Read"
        onRead={read}
      >
        <FirmButton
          class="key box"
          onFirm={() => {
            choosing.value = true;
          }}
        >
          {box.text}
        </FirmButton>
      </NumberPad>
      {refusal.value !== undefined && (
        <p class="wrong" role="alert">
          {refusal.value}
        </p>
      )}
    </div>
  );
}

/** Minute of the last dip of the run-off, or of its beginning. */
export function lastDipMin(brew: BrewState, day: WortDay, nowMin: number): number {
  const start = brew.startedAtMs ?? 0;
  const dip = readsAt(brew, 'run-off').findLast((r) => r.litres !== undefined)?.atMs;
  const begun = brew.moves.find((m) => m.moveId === 'run-off')?.begunAtMs;
  const at = dip ?? begun;
  return at === undefined ? Math.min(nowMin, day.lauter.endMin.likely) : (at - start) / 60_000;
}

/** Why a figure cannot be true; nothing when it can. */
function refusalOf(
  box: WortBox,
  reading: PadReading,
  document: PlanDocument,
  point: WortPoint,
): string | undefined {
  const { value, text } = reading;
  if (box.what === 'flow')
    return value > 0 && value <= FASTEST_L_MIN
      ? undefined
      : `${box.text}: ${flowText(value)} cannot be; possible: more than 0, up to ${flowText(FASTEST_L_MIN)}. Read it again.`;
  const kettle = document.kit.vessels.find((v) => v.role === 'kettle');
  const inKettle = point === 'kettle-full' || point === 'run-off' || point === 'cast-out';
  const check = checkReading(
    { what: box.what, value, vessel: kettle?.id ?? point, text },
    {
      pair: pair.value,
      vesselName: inKettle && kettle !== undefined ? nameIn(document.kit, kettle.id) : box.text,
      ...(inKettle && kettle !== undefined && { brimL: kettle.brimL }),
    },
  );
  return check.ok || check.verdict === 'doubtful' ? undefined : check.message;
}
