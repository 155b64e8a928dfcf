import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import { type BrewState, checkReading } from '@ladlework/log';
import type { VesselNow } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { record } from '../data/house.ts';
import { attempt } from '../pages/trouble.tsx';
import { pair } from '../shell/settings.ts';
import { show } from '../units/show.ts';
import { type Box, presetFor, WHATS, whatText } from './boxes.ts';
import { FirmButton } from './FirmButton.tsx';
import { boxKey } from './half-typed.ts';
import { landingRead } from './miss.ts';
import { NumberPad, type PadReading } from './NumberPad.tsx';
import type { Offered } from './probe-standing.ts';
import { threePlaces } from './three-places.ts';
import { Unsettled } from './Unsettled.tsx';

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit;
  /** Vessel the moment asks for. */
  readonly preferred: string;
  /** The return under way. */
  readonly returning: string | undefined;
  /** What stands there by the forecast. */
  readonly vessels: readonly VesselNow[] | undefined;
  /** What stands there by the plan, while there is no forecast. */
  readonly plannedC: (vessel: string) => number | undefined;
  /** What a live probe shows of a box: the pad stands at it. */
  readonly probed: (box: Box) => Offered | undefined;
}

/** Half a digit of the pad, in the wider of the two units [K]. */
const AS_SHOWN = 0.06;

/** Two taps a reading: the pad stands at what is expected of the vessel the moment asks for. */
export function ReadPad(props: Props) {
  const { brew, kit, preferred } = props;
  const chosen = useSignal<Box | undefined>(undefined);
  const choosing = useSignal(false);
  const three = useSignal(false);
  const places = useSignal<readonly PadReading[]>([]);
  const refusal = useSignal<string | undefined>(undefined);
  // A box that was picked holds for the move it was picked in.
  useEffect(() => {
    chosen.value = undefined;
    choosing.value = false;
    refusal.value = undefined;
    places.value = [];
  }, [preferred, chosen, choosing, refusal, places]);
  const box = chosen.value ?? { vessel: preferred, what: 'temp' };
  const vessel = kit.vessels.find((v) => v.id === box.vessel);
  const name = nameIn(kit, box.vessel);

  const write = (value: number, unit: string, text: string, sdK?: number) =>
    attempt('write the reading down', async () => {
      const offered = props.probed(box);
      const moveId = landingRead(brew, box.vessel, props.returning, nowMs());
      await record({
        stream: brew.stream,
        type: 'reading',
        data: {
          vessel: box.vessel,
          what: box.what,
          value,
          unit,
          text,
          places: three.value ? 3 : 1,
          settled: three.value || props.returning === undefined,
          ...(moveId !== undefined && { moveId }),
          ...(sdK !== undefined && { sdK }),
          // Confirmed as the pad stood, it is the probe's number and no second thermometer.
          ...(offered !== undefined &&
            !three.value &&
            Math.abs(value - offered.value) < AS_SHOWN && {
              probe: offered.probe.id,
              sdK: offered.probe.sd,
            }),
        },
      });
      three.value = false;
      places.value = [];
    });
  const said = threePlaces(places.value.map((p) => p.value));
  const takePlaces = () =>
    void write(
      said.meanC,
      places.value[0]?.unit ?? '°C',
      places.value.map((p) => p.text).join(', '),
      said.sdK,
    );
  /** The third of three places that agree is the reading; of those that do not, a question. */
  const place = (reading: PadReading) => {
    places.value = places.value.length >= 3 ? [reading] : [...places.value, reading];
    const all = threePlaces(places.value.map((p) => p.value));
    if (places.value.length === 3 && all.settled)
      void write(all.meanC, reading.unit, places.value.map((p) => p.text).join(', '), all.sdK);
  };
  const read = (reading: PadReading) => {
    const check = checkReading(
      { what: box.what, value: reading.value, vessel: box.vessel, text: reading.text },
      { pair: pair.value, ...(vessel && { vesselName: vessel.name, brimL: vessel.brimL }) },
    );
    refusal.value = check.ok ? undefined : check.message;
    // What cannot be is refused; what is only doubtful is kept, and the forecast asks about it.
    if (!check.ok && check.verdict !== 'doubtful') return;
    if (three.value && box.what === 'temp') place(reading);
    else void write(reading.value, reading.unit, reading.text);
  };

  const head = (
    <>
      <FirmButton
        class="key box"
        pressed={choosing.value}
        onFirm={() => {
          choosing.value = !choosing.value;
        }}
      >
        {name} {whatText(box.what)}
      </FirmButton>
      {box.what !== 'iodine' && (
        <FirmButton
          class="key"
          label="× 3: stirred, read in three places"
          pressed={three.value}
          onFirm={() => {
            three.value = !three.value;
            places.value = [];
          }}
        >
          × 3
        </FirmButton>
      )}
    </>
  );
  if (choosing.value)
    return (
      <div class="padside">
        <Choice
          kit={kit}
          box={box}
          onChoose={(next) => {
            chosen.value = next;
          }}
          onDone={() => {
            choosing.value = false;
          }}
        />
      </div>
    );
  const several = three.value && box.what === 'temp';
  return (
    <div class="padside">
      {several && places.value.length === 3 && !said.settled && (
        <Unsettled
          name={name}
          values={places.value.map((p) => p.value)}
          said={said}
          onAgain={() => (places.value = [])}
          onTake={takePlaces}
        />
      )}
      {several && places.value.length > 0 && places.value.length < 3 && (
        <p class="soft" role="status">
          {places.value.map((p) => p.text).join(', ')}
          {places.value.length > 1 &&
            `: ${show('temperatureDifference', said.spreadK, 1)} between them`}
        </p>
      )}
      {box.what === 'iodine' ? (
        <section class="pad iodine" aria-label={`${name} iodine`}>
          <div class="pad-head">{head}</div>
          <FirmButton class="key read" onFirm={() => void write(0, 'iodine', 'negative')}>
            No blue
          </FirmButton>
          <FirmButton class="key" onFirm={() => void write(1, 'iodine', 'positive')}>
            Blue
          </FirmButton>
        </section>
      ) : (
        <NumberPad
          keptAs={boxKey(brew.brew, box.vessel, box.what)}
          title={`${name} ${whatText(box.what)}`}
          what={box.what}
          expected={presetOf(props, box, vessel?.brimL ?? 100)}
          verb={
            several
              ? `Read place ${Math.min(3, places.value.length + 1)} of 3`
              : three.value
                ? 'Read × 3'
                : props.returning === undefined
                  ? 'Read'
                  : 'Read, stirred'
          }
          onRead={read}
        >
          {head}
        </NumberPad>
      )}
      {refusal.value !== undefined && (
        <p class="wrong" role="alert">
          {refusal.value}
        </p>
      )}
    </div>
  );
}

function presetOf(props: Props, box: Box, brimL: number): number {
  const offered = props.probed(box);
  if (offered !== undefined) return offered.value;
  const here = props.vessels?.find((v) => v.vessel === box.vessel);
  const last = props.brew.readings.findLast(
    (r) => r.vessel === box.vessel && r.what === box.what && r.standing === 'holds',
  );
  const known = {
    tempC: here?.tempC.likely ?? props.plannedC(box.vessel),
    volumeL: here?.volumeL.likely,
  };
  return presetFor(box, known, last?.value, brimL);
}

interface ChoiceProps {
  readonly kit: Kit;
  readonly box: Box;
  readonly onChoose: (box: Box) => void;
  readonly onDone: () => void;
}

/** Which vessel, and what of it; the pad comes back when what is read was picked. */
function Choice({ kit, box, onChoose, onDone }: ChoiceProps) {
  return (
    <section class="pad-choice" aria-label="What to read">
      {kit.vessels.map((v) => (
        <FirmButton
          key={v.id}
          class="key"
          pressed={v.id === box.vessel}
          onFirm={() => onChoose({ ...box, vessel: v.id })}
        >
          {v.name}
        </FirmButton>
      ))}
      {WHATS.map((w) => (
        <FirmButton
          key={w.value}
          class="key"
          pressed={w.value === box.what}
          onFirm={() => {
            onChoose({ ...box, what: w.value });
            onDone();
          }}
        >
          {w.text}
        </FirmButton>
      ))}
    </section>
  );
}
