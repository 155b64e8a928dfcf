import type { BrewState } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { beginWork, finishWork } from '../day/actions.ts';
import { FirmButton } from '../day/FirmButton.tsx';
import { through } from '../day/gate/GateSheet.tsx';
import { gateBeforeWork } from '../day/gate/gates.ts';
import { layout } from '../day/layout.ts';
import { careFor } from '../day/work-care.ts';
import { clockOf, inPair } from '../units/show.ts';
import { BoilPart } from './BoilPart.tsx';
import { pointNow } from './boxes.ts';
import { KettlePart } from './KettlePart.tsx';
import { KnockOutPart } from './KnockOutPart.tsx';
import { LauterPart } from './LauterPart.tsx';
import { stepNow, type WortStep } from './steps.ts';
import type { WortLive } from './use-wort.ts';
import { WortPad } from './WortPad.tsx';
import { tankChange, WortStages } from './WortStages.tsx';

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan;
  readonly wort: WortLive;
  readonly steps: readonly WortStep[];
  /** Where the timetable of the day counts from [ms]. */
  readonly dayStartMs: number;
  readonly now: number;
}

/** The running day after the mash: the step now, the pad for the wort, and what it leads to. */
export function WortDesk({ brew, document, plan, wort, steps, dayStartMs, now }: Props) {
  const { day } = wort;
  const step = stepNow(steps);
  const nowMin = (now - (brew.startedAtMs ?? now)) / 60_000;
  const point = day === undefined ? undefined : pointNow(day, nowMin);
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  const changed = day === undefined ? undefined : tankChange(wort.before, day, at);
  return (
    <>
      <div class="now">
        <StepCard
          brew={brew}
          document={document}
          step={step}
          advice={day?.next.text}
          changed={changed}
          dayStartMs={dayStartMs}
        />
        {day !== undefined && point !== undefined && layout.value !== 'wall' && (
          <WortPad brew={brew} document={document} day={day} point={point} nowMin={nowMin} />
        )}
      </div>
      {wort.why !== undefined && (
        <p class="wrong" role="alert">
          <b>Nothing foretold of the wort.</b> {wort.why}
        </p>
      )}
      {day !== undefined && (
        <>
          {(day.at === 'mash' || day.at === 'run-off') && (
            <LauterPart brew={brew} document={document} plan={plan} day={day} nowMin={nowMin} />
          )}
          {day.at === 'kettle-full' && day.kettle !== undefined && (
            <KettlePart brew={brew} kettle={day.kettle} />
          )}
          {(day.at === 'kettle-full' || day.at === 'boil' || day.at === 'stand') && (
            <BoilPart brew={brew} document={document} plan={plan} day={day} nowMs={now} />
          )}
          {(day.at === 'stand' || day.at === 'knock-out' || day.at === 'tank') && (
            <KnockOutPart brew={brew} day={day} nowMs={now} />
          )}
          {layout.value === 'full' && <WortStages brew={brew} day={day} />}
        </>
      )}
    </>
  );
}

interface CardProps {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly step: WortStep | undefined;
  readonly advice: string | undefined;
  readonly changed: string | undefined;
  readonly dayStartMs: number;
}

/** Somebody's name, as far as the kit knows it. */
const handOf = ({ kit }: PlanDocument, id: string): string =>
  kit.hands.find((h) => h.id === id)?.name ?? id;

function StepCard({ brew, document, step, advice, changed, dayStartMs }: CardProps) {
  if (step === undefined) return null;
  const open = step.state === 'open';
  const at = (minute: number) => clockOf(dayStartMs + minute * 60_000);
  const name = inPair(step.name);
  const care = careFor(step.id);
  return (
    <section class={`do ${open ? 'open' : 'on'}`} aria-label="Wort">
      <p class="do-key">
        {open ? 'next' : 'now'}
        {step.hands.length > 0 && ` · ${step.hands.map((h) => handOf(document, h)).join(' and ')}`}
        {open && step.startMin !== undefined && ` · at ${at(step.startMin)}`}
        {!open && step.endMin !== undefined && ` · until ${at(step.endMin)}`}
      </p>
      <p class="do-what">{name}</p>
      {advice !== undefined && <p class="do-how">{inPair(advice)}</p>}
      {changed !== undefined && (
        <p class="do-more" role="status">
          The last entry moved the tank: {changed}.
        </p>
      )}
      {care !== undefined && (
        <ul class="chips" aria-label="Take care">
          <li>{care}</li>
        </ul>
      )}
      <div class="do-act">
        <FirmButton
          class="key done"
          label={`${name}: ${open ? 'begin' : 'done'}`}
          onFirm={() =>
            through(brew, open ? gateBeforeWork(brew, step.id, undefined) : undefined, () =>
              (open ? beginWork : finishWork)(brew, step.id),
            )
          }
        >
          {open ? 'Begin' : 'Done'}
        </FirmButton>
      </div>
    </section>
  );
}
