import type { BrewState, PlanSummary, SheetBox } from '@ladlework/log';
import { findBox, sheetBoxes, sheetMark } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { brewById, record } from '../data/house.ts';
import { withdraw } from '../day/actions.ts';
import { readKept, writeKept } from '../shell/kept.ts';
import { hashOf } from '../shell/route.ts';
import { pair } from '../shell/settings.ts';
import { brewName } from './BrewsPage.tsx';
import { Gone } from './Gone.tsx';
import { eventsOf } from './paper/back-entry.ts';
import {
  boxSaid,
  fieldsOf,
  isFilled,
  likelyClock,
  type PaperBrew,
  type PaperField,
} from './paper/box-words.ts';
import { dateOf, instantOf } from './plan/day/day-words.ts';
import { attempt, Trouble } from './trouble.tsx';

/** What was written on paper, typed in by the code of its box. */
export function PaperInPage({ id }: { id: string }) {
  const brew = brewById(id);
  if (brew?.document === undefined || brew.planSummary === undefined)
    return <Gone what="brew" back="#/brews" />;
  return (
    <PaperIn brew={brew} document={brew.document as PlanDocument} summary={brew.planSummary} />
  );
}

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly summary: PlanSummary;
}

/** One box that was typed in, and the events it wrote. */
interface Kept {
  readonly code: string;
  readonly text: string;
  readonly ids: readonly string[];
}

function PaperIn({ brew, document, summary }: Props) {
  const boxes = useMemo(() => sheetBoxes(summary), [summary]);
  const paper: PaperBrew = {
    brew,
    kit: document.kit,
    startMin: document.day.startMin,
    pair: pair.value,
  };
  const mark = sheetMark(summary);
  const kept = useSignal<readonly Kept[]>([]);
  const code = useSignal(firstOpen(boxes, brew, -1));
  const filled = boxes.filter((b) => isFilled(b, brew)).length;
  return (
    <>
      <header class="head">
        <div>
          <h1>Type paper in</h1>
          <p>
            {brewName(brew)}, sheet {mark}: {filled} of {boxes.length} boxes are in the log.
          </p>
        </div>
        <div class="row">
          <a class="btn" href={hashOf({ at: 'record', id: brew.brew })}>
            Record
          </a>
          <a class="btn" href={hashOf({ at: 'paper', id: brew.brew })}>
            Paper
          </a>
        </div>
      </header>
      <Trouble />
      <BoxForm
        boxes={boxes}
        paper={paper}
        mark={mark}
        code={code.value}
        onCode={(next) => {
          code.value = next;
        }}
        onKept={(box, entry) => {
          kept.value = [entry, ...kept.value];
          code.value = firstOpen(boxes, brew, boxes.indexOf(box));
        }}
      />
      <KeptList
        brew={brew}
        kept={kept.value}
        onUndone={() => {
          code.value = kept.value[0]?.code ?? code.value;
          kept.value = kept.value.slice(1);
        }}
      />
    </>
  );
}

/** Code of the next box after one of the sheet that is not in the log; '' when all are. */
function firstOpen(boxes: readonly SheetBox[], brew: BrewState, after: number): string {
  const open = boxes.filter((b, n) => n !== after && !isFilled(b, brew));
  return (open.find((b) => boxes.indexOf(b) > after) ?? open[0])?.code ?? '';
}

interface FormProps {
  readonly boxes: readonly SheetBox[];
  readonly paper: PaperBrew;
  /** Printed on the sheet of this plan. */
  readonly mark: string;
  readonly code: string;
  readonly onCode: (code: string) => void;
  readonly onKept: (box: SheetBox, entry: Kept) => void;
}

/** Code, then its figures, then the clock; Enter goes on, and after the last one keeps the box. */
function BoxForm({ boxes, paper, mark, code, onCode, onKept }: FormProps) {
  const form = useRef<HTMLFormElement>(null);
  const refusal = useSignal<string | undefined>(undefined);
  const asked = useSignal(false);
  const saving = useSignal(false);
  const found = findBox(boxes, code);
  const box = found.ok ? found.box : undefined;
  const fields = box === undefined ? [] : fieldsOf(box, paper);
  const inputs = () => [...(form.current?.querySelectorAll('input') ?? [])];

  const goOn = (from: EventTarget | null) => {
    const all = inputs();
    const at = all.indexOf(from as HTMLInputElement);
    if (at === 0) asked.value = true;
    if (at === 0 && box === undefined) return;
    const next = all[at + 1];
    if (next !== undefined) {
      next.focus();
      next.select();
    } else void keep();
  };
  const keep = async () => {
    if (box === undefined || saving.value) return;
    const typed = inputs()
      .slice(1)
      .map((i) => i.value);
    const events = eventsOf(box, typed, paper, nowMs(), dayOf);
    refusal.value = events.ok ? undefined : events.error;
    if (!events.ok) return;
    saving.value = true;
    const ids: string[] = [];
    const done = await attempt('keep the box', async () => {
      const { stream } = paper.brew;
      // One box is one tap: all of what it says is on disk, or nothing.
      const written = await record(...events.value.map((event) => ({ ...event, stream })));
      ids.push(...written.map((event) => event.id));
    });
    saving.value = false;
    if (!done) return;
    for (const field of fields) writeKept(halfKey(paper.brew, box.code, field.name), undefined);
    asked.value = false;
    onKept(box, { code: box.code, text: `${boxSaid(box, paper)}: ${typed.join(', ')}`, ids });
    const first = inputs()[0];
    first?.focus();
    // The next code stands there when the page has drawn itself again.
    requestAnimationFrame(() => inputs()[0]?.select());
  };
  return (
    <form
      ref={form}
      class="paper-in"
      onSubmit={(event) => {
        event.preventDefault();
        void keep();
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
        event.preventDefault();
        goOn(event.target);
      }}
    >
      <p class="box-said" role="status">
        {box !== undefined
          ? `${boxSaid(box, paper)}${isFilled(box, paper.brew) ? '. In the log already; what you keep stands beside it.' : ''}`
          : code === ''
            ? 'Every box of the sheet is in the log; a code opens one again.'
            : ''}
      </p>
      <div class="fields">
        <div class="field">
          <label for="box-code">Code of the box</label>
          <div class="control">
            <input
              id="box-code"
              class="code"
              type="text"
              autocomplete="off"
              autocapitalize="characters"
              spellcheck={false}
              value={code}
              onInput={(event) => {
                asked.value = false;
                refusal.value = undefined;
                onCode(event.currentTarget.value);
              }}
            />
          </div>
        </div>
        {box !== undefined &&
          fields.map((field) => (
            <BoxField key={`${box.code}.${field.name}`} box={box} field={field} paper={paper} />
          ))}
        <button type="submit" class="btn solid" disabled={box === undefined || saving.value}>
          Keep
        </button>
      </div>
      {!found.ok && asked.value && code !== '' && (
        <div class="wrong" role="alert">
          <p>
            {found.typed === '' ? 'That' : found.typed} is no box of this sheet, whose mark is{' '}
            {mark}. Nearest:
          </p>
          <div class="row">
            {found.nearest.map((near) => (
              <button
                key={near.code}
                type="button"
                class="btn"
                onClick={() => {
                  asked.value = false;
                  onCode(near.code);
                  inputs()[0]?.focus();
                }}
              >
                {near.code}: {boxSaid(near, paper)}
              </button>
            ))}
          </div>
        </div>
      )}
      {refusal.value !== undefined && (
        <p class="wrong" role="alert">
          {refusal.value}
        </p>
      )}
    </form>
  );
}

/** Where a box that is not kept yet keeps what is typed. */
const halfKey = (brew: BrewState, code: string, field: string): string =>
  `paper.${brew.brew}.${code}.${field}`;

function BoxField({ box, field, paper }: { box: SheetBox; field: PaperField; paper: PaperBrew }) {
  const id = `box-${field.name.replace(/\W+/g, '-')}`;
  const key = halfKey(paper.brew, box.code, field.name);
  const preset =
    field.as === 'clock' ? likelyClock(box, paper) : field.as === 'date' ? dateOf(nowMs()) : '';
  // What is half typed survives a reload, a flat battery, and a look at another box.
  const first = readKept(key, preset, (raw) => (typeof raw === 'string' ? raw : undefined));
  const keep = (text: string) => writeKept(key, text === preset ? undefined : text);
  const label = field.unit === '' ? field.name : `${field.name}, ${field.unit}`;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="control">
        {field.as === 'date' ? (
          <input
            id={id}
            type="date"
            defaultValue={first}
            onInput={(event) => keep(event.currentTarget.value)}
          />
        ) : (
          <input
            id={id}
            type="text"
            inputMode={field.as === 'number' ? 'decimal' : 'text'}
            autocomplete="off"
            placeholder={field.as === 'yes-no' ? 'y or n' : undefined}
            defaultValue={first}
            onInput={(event) => keep(event.currentTarget.value)}
          />
        )}
      </div>
    </div>
  );
}

/** Instant of a clock on a date of this device's zone. */
function dayOf(date: string, clockMin: number) {
  const ms = instantOf(date, clockMin);
  return ms === undefined ? undefined : { ms, utcOffsetMin: -new Date(ms).getTimezoneOffset() };
}

interface KeptProps {
  readonly brew: BrewState;
  readonly kept: readonly Kept[];
  readonly onUndone: () => void;
}

/** What was typed in since the page was opened; each stands on this device's disk. */
function KeptList({ brew, kept, onUndone }: KeptProps) {
  const last = kept[0];
  if (last === undefined) return null;
  return (
    <section class="block">
      <h2>Kept on this device</h2>
      <button
        type="button"
        class="btn"
        onClick={() =>
          attempt('undo', async () => {
            for (const id of last.ids) await withdraw(brew, id, 'undone');
            onUndone();
          })
        }
      >
        Undo {last.code}
      </button>
      <ol class="entries">
        {kept.map((k) => (
          <li key={k.ids[0]}>
            <b>{k.code}</b> {k.text}
          </li>
        ))}
      </ol>
    </section>
  );
}
