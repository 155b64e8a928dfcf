import { type Beer, type TastingSheet, tastingResult, tastingSheet } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { NumberField, Pick, TextField } from '../../form/fields.tsx';

interface TastingDraft {
  readonly a: string;
  readonly b: string;
  readonly tasters: number;
  /** Deals the glasses; kept, so that key and slips stay those that were poured by. */
  readonly seed: number;
  /** The code each taster marked, by number. */
  readonly answers: Readonly<Record<number, string>>;
}

const TASTERS = { usual: 12, least: 3, most: 300 } as const;

const freshSeed = (): number => crypto.getRandomValues(new Int32Array(1))[0] ?? 1;

/** A triangle test of two beers: sheets to print, answers to type in, what they show. */
export function TastingPart({ beer }: { beer: Beer }) {
  const store = useDraft<TastingDraft>(`tasting.${beer.id}`, {
    a: beer.name,
    b: `${beer.name}, no boil`,
    tasters: TASTERS.usual,
    seed: freshSeed(),
    answers: {},
  });
  const draft = store.draft.value.value;
  const set = (change: Partial<TastingDraft>) => store.set({ ...draft, ...change });
  const printing = useSignal<'slips' | 'key'>('slips');
  const sheet = tastingSheet(draft);
  const print = (what: 'slips' | 'key') => {
    // From here on glasses are poured by this deal: it must outlive a reload.
    set({});
    printing.value = what;
    // The page is drawn anew before the browser takes its picture of it.
    requestAnimationFrame(() => window.print());
  };
  return (
    <DraftTexts.Provider value={store}>
      <div class={`tasting print-${printing.value}`}>
        <section class="block noprint">
          <h2>Blind tasting</h2>
          <p class="lead">
            Three glasses, two of them alike: who can tell names the odd one oftener than one time
            in three.
          </p>
          <div class="fields">
            <TextField label="Beer A" path="a" value={draft.a} onValue={(a) => set({ a })} />
            <TextField label="Beer B" path="b" value={draft.b} onValue={(b) => set({ b })} />
            <NumberField
              label="Tasters"
              path="tasters"
              value={draft.tasters}
              min={TASTERS.least}
              max={TASTERS.most}
              onValue={(n) =>
                n !== undefined && set({ tasters: Math.round(n), answers: {}, seed: freshSeed() })
              }
            />
          </div>
          <ul class="plain-list">
            {sheet.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
          <div class="row find-act">
            <button type="button" class="btn solid" onClick={() => print('slips')}>
              Print slips
            </button>
            <button type="button" class="btn" onClick={() => print('key')}>
              Print key
            </button>
            <button
              type="button"
              class="btn"
              onClick={() => set({ seed: freshSeed(), answers: {} })}
            >
              Deal anew
            </button>
          </div>
        </section>
        <Answers sheet={sheet} draft={draft} set={set} />
        <details class="certificate key-sheet noprint">
          <summary>
            Key <span class="soft">for the one who pours, and no one else</span>
          </summary>
          <pre>{sheet.keyText}</pre>
        </details>
        <section class="on-paper key" aria-label="Key to print">
          <pre>{sheet.keyText}</pre>
        </section>
        <section class="on-paper slips" aria-label="Slips to print">
          {sheet.slipTexts.map((text, i) => (
            <pre key={sheet.tasters[i]?.number}>{text}</pre>
          ))}
        </section>
      </div>
    </DraftTexts.Provider>
  );
}

interface AnswerProps {
  readonly sheet: TastingSheet;
  readonly draft: TastingDraft;
  readonly set: (change: Partial<TastingDraft>) => void;
}

function Answers({ sheet, draft, set }: AnswerProps) {
  const answered = sheet.tasters.filter((t) => draft.answers[t.number] !== undefined);
  const correct = answered.filter((t) => draft.answers[t.number] === t.odd).length;
  const open = sheet.tasters.length - answered.length;
  return (
    <section class="block noprint">
      <h2>What they marked</h2>
      <div class="fields answers">
        {sheet.tasters.map((t) => (
          <Pick
            key={t.number}
            label={`Taster ${t.number}`}
            value={draft.answers[t.number] ?? ''}
            options={[
              { value: '', text: '–' },
              ...t.glasses.map((g) => ({ value: g.code, text: g.code })),
            ]}
            onValue={(code) => {
              const { [t.number]: _old, ...others } = draft.answers;
              set({ answers: code === '' ? others : { ...others, [t.number]: code } });
            }}
          />
        ))}
      </div>
      <p class="verdict" role="status">
        {open > 0
          ? `${open} of ${sheet.tasters.length} slips to come; what they show is told when all are in.`
          : tastingResult({ tasters: sheet.tasters.length, correct }).sentence}
      </p>
    </section>
  );
}
