import type { BrewState } from '@ladlework/log';
import type { Paper, PaperSize } from '@ladlework/paper';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { brewById } from '../data/house.ts';
import { engine } from '../engine/client.ts';
import { planOf } from '../engine/plans.ts';
import { kept, oneOf } from '../shell/kept.ts';
import { hashOf } from '../shell/route.ts';
import { pair, pairName } from '../shell/settings.ts';
import { clockOf, inPair } from '../units/show.ts';
import { Gone } from './Gone.tsx';
import { PaperSheet } from './paper/PaperSheet.tsx';
import { dateOf } from './plan/day/day-words.ts';
import { saveFile } from './save-file.ts';
import { attempt, Trouble } from './trouble.tsx';

/** What lies in the printer. */
const size = kept<PaperSize>('paper', 'a4', oneOf('a4', 'letter'));

/** The day on paper: the brew sheet, and a ruler chart for each return. */
export function PaperPage({ id }: { id: string }) {
  const brew = brewById(id);
  if (brew?.document === undefined) return <Gone what="brew" back="#/brews" />;
  const document = brew.document as PlanDocument;
  const answer = planOf(document).value;
  if (answer.state === 'here' && answer.plan.feasible)
    return <Pages brew={brew} document={document} plan={answer.plan} />;
  return (
    <>
      <header class="head">
        <h1>Paper for {document.beer.name}</h1>
      </header>
      <p class={answer.state === 'asking' ? 'note' : 'wrong'} role="status">
        {answer.state === 'asking'
          ? 'The engine is working the day out.'
          : answer.state === 'failed'
            ? `No plan, so no sheet. ${inPair(answer.why)}`
            : 'A day that cannot be done has no sheet; the plan says what would free it.'}
      </p>
    </>
  );
}

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan;
}

function Pages({ brew, document, plan }: Props) {
  const drawn = useSignal<Paper | undefined>(undefined);
  const wrong = useSignal<string | undefined>(undefined);
  const making = useSignal(false);
  const printedAtMs = useSignal(nowMs());
  useEffect(() => {
    const at = printedAtMs.peek();
    const facts = {
      size: size.value,
      pair: pair.value,
      brew: `brew ${brew.brew}`,
      printed: `${dateOf(at)} ${clockOf(at)}`,
      ...(brew.planSummary === undefined ? {} : { summary: brew.planSummary }),
    };
    void engine.paper({ document, plan, facts }).then((answer) => {
      if (answer.ok) drawn.value = answer.value;
      else if (answer.error.code !== 'superseded') wrong.value = answer.error.message;
    });
  }, [plan, size.value, pairName.value]);
  const paper = drawn.value;
  const name = document.beer.name;
  const savePdf = () =>
    attempt('make the PDF', async () => {
      if (paper === undefined) return;
      making.value = true;
      try {
        const { pdfFile } = await import('./paper/save-pdf.ts');
        saveFile(
          `${name}.pdf`,
          await pdfFile(paper.pages, name, printedAtMs.peek()),
          'application/pdf',
        );
      } finally {
        making.value = false;
      }
    });
  return (
    <>
      <header class="head">
        <div>
          <h1>Paper for {name}</h1>
          <p>{paper === undefined ? 'Drawing the pages.' : saying(paper)}</p>
        </div>
        <div class="row noprint">
          <PaperChoice />
          <button
            type="button"
            class="btn solid"
            disabled={paper === undefined}
            onClick={() => window.print()}
          >
            Print
          </button>
          <button
            type="button"
            class="btn"
            disabled={paper === undefined || making.value}
            onClick={savePdf}
          >
            Save as PDF
          </button>
          <a class="btn" href={hashOf({ at: 'paper-in', id: brew.brew })}>
            Type paper in
          </a>
          <a class="btn" href={hashOf({ at: 'plan', id: brew.brew })}>
            Plan
          </a>
        </div>
      </header>
      <Trouble />
      {wrong.value !== undefined && (
        <p class="wrong" role="alert">
          {wrong.value}
        </p>
      )}
      {paper?.pages.map((page, n) => (
        <PaperSheet key={`${n + 1} ${page.title}`} page={page} />
      ))}
    </>
  );
}

function PaperChoice() {
  return (
    <fieldset class="choice" aria-label="Paper">
      {(['a4', 'letter'] as const).map((one) => (
        <button
          key={one}
          type="button"
          class="btn"
          aria-pressed={size.value === one}
          onClick={() => {
            size.value = one;
          }}
        >
          {one === 'a4' ? 'A4' : 'Letter'}
        </button>
      ))}
    </fieldset>
  );
}

function saying({ pages, sheetPages, withoutChart }: Paper): string {
  const charts = pages.length - sheetPages;
  const sheet = sheetPages === 1 ? 'The brew sheet' : `The brew sheet on ${sheetPages} pages`;
  const after = `${sheet}, then ${charts === 1 ? 'a ruler chart' : `${charts} ruler charts`}.`;
  return withoutChart.length === 0
    ? after
    : `${after} Return ${withoutChart.join(' and ')} has none: its pot reaches the target over too few readings.`;
}
