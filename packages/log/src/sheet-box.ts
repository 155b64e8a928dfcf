/**
 * The boxes of a brew sheet on paper: what is written in each, and the code by which it is typed
 * back in. Sheet and page take them from here, so that a code means the same on both.
 *
 * A code is a letter for what is written, a number, and a check letter: "M7K". The check letter
 * also stands for the plan, so that a code from the sheet of another plan is refused.
 */
import { followsOn, inDayOrder, isPassive } from './day-order.ts';
import type { ReadingWhat, WortPoint } from './event.ts';
import { GATES, gateWords } from './names.ts';
import type { PlanSummary, SummaryBand, SummaryMove, SummaryReturn } from './summary.ts';

/** What is written in a box. */
export type SheetEntry =
  | { readonly as: 'start' }
  | { readonly as: 'begun' | 'done' | 'portions'; readonly moveId: string }
  | {
      readonly as: 'reading';
      readonly what: Exclude<ReadingWhat, 'level'>;
      readonly vessel: string;
      readonly moveId?: string;
    }
  | { readonly as: 'gate'; readonly gate: string }
  | {
      readonly as: 'wort';
      readonly point: WortPoint;
      readonly figures: readonly WortFigure[];
    }
  | { readonly as: 'note' };

/** What is read of wort: at the tap while it runs off [°P], else litres, their °C, and °P. */
export type WortFigure = 'tapPlato' | 'litres' | 'tempC' | 'plato';

export interface SheetBox {
  readonly code: string;
  readonly entry: SheetEntry;
  /** What the plan expects: minutes after the start for a clock, else the entry's own unit. */
  readonly planned?: SummaryBand;
  /** Minute of the plan near which it is written [min after the start]. */
  readonly atMin: number;
  /** In trade words: the move, the gate or the point of the day it belongs to. */
  readonly text: string;
}

/** Letters nobody takes for a digit or for another letter: no B, G, I, O, Q, S, Z. */
const LETTERS = 'ACDEFHJKLMNPRTUVWXY';

/** First letter of each kind of box. M and P are those of the record. */
const FIRST = {
  start: 'A',
  begun: 'M',
  done: 'D',
  portions: 'L',
  temp: 'T',
  landing: 'P',
  ph: 'H',
  iodine: 'J',
  gravity: 'E',
  volume: 'V',
  gate: 'K',
  wort: 'W',
  note: 'N',
} as const;

/** Gates ticked before hands move; the usual ones. @source field.md section 1.39 and 8, common practice */
const TICKED: readonly { readonly gate: string; readonly before: 'mash-in' | 'end' }[] = [
  { gate: GATES.thermometers, before: 'mash-in' },
  { gate: GATES.falseBottom, before: 'mash-in' },
  { gate: GATES.spargeSalts, before: 'end' },
  { gate: GATES.tankSanitised, before: 'end' },
];

/** Points of the wort, each with one code; litres go with the temperature they were read at. */
const WORT: readonly {
  readonly point: WortPoint;
  readonly figures: readonly WortFigure[];
  readonly text: string;
}[] = [
  { point: 'run-off', figures: ['tapPlato'], text: 'First wort' },
  { point: 'kettle-full', figures: ['litres', 'tempC', 'plato'], text: 'Kettle full' },
  { point: 'cast-out', figures: ['litres', 'tempC', 'plato'], text: 'Cast-out' },
  { point: 'tank', figures: ['litres', 'tempC', 'plato'], text: 'In tank' },
];

/** Lines for whatever has no box. */
const NOTES = 2;

/**
 * Every box of a plan's sheet, in the order of the screen.
 *
 * @param summary of the plan
 * @returns boxes with codes that differ in more than one letter each
 */
export function sheetBoxes(summary: PlanSummary): SheetBox[] {
  const plan = sheetMark(summary);
  const code = (first: string, n: number) => `${first}${n}${checkLetter(`${plan}${first}${n}`)}`;
  const number = new Map(summary.moves.map((m, i) => [m.id, i + 1]));
  const ordered = inDayOrder(summary.moves);
  const gates = (before: 'mash-in' | 'end', atMin: number): SheetBox[] =>
    TICKED.flatMap((g, i) =>
      g.before === before
        ? [
            {
              code: code(FIRST.gate, i + 1),
              entry: { as: 'gate', gate: g.gate },
              atMin,
              text: gateWords(g.gate) ?? g.gate,
            },
          ]
        : [],
    );
  const boxes: SheetBox[] = [
    { code: code(FIRST.start, 1), entry: { as: 'start' }, atMin: 0, text: 'Day begins' },
  ];
  for (const move of ordered) {
    if (move.kind === 'mash-in') boxes.push(...gates('mash-in', move.startMin.likely));
    boxes.push(...moveBoxes(move, number.get(move.id) as number, ordered, summary.returns, code));
  }
  const endMin = summary.mashEndMin.likely;
  boxes.push(...gates('end', endMin));
  WORT.forEach(({ point, figures, text }, i) => {
    boxes.push({
      code: code(FIRST.wort, i + 1),
      entry: { as: 'wort', point, figures },
      atMin: endMin,
      text,
    });
  });
  for (let n = 1; n <= NOTES; n++)
    boxes.push({ code: code(FIRST.note, n), entry: { as: 'note' }, atMin: endMin, text: 'Note' });
  return boxes;
}

function moveBoxes(
  move: SummaryMove,
  n: number,
  ordered: readonly SummaryMove[],
  returns: readonly SummaryReturn[],
  code: (first: string, n: number) => string,
): SheetBox[] {
  const { id: moveId, vessel, text } = move;
  const start = move.startMin.likely;
  const end = move.endMin.likely;
  const boxes: SheetBox[] = [];
  const begins = !ordered.some((done) => followsOn(move, done)) || !isPassive(move);
  if (begins)
    boxes.push({
      code: code(FIRST.begun, n),
      entry: { as: 'begun', moveId },
      planned: move.startMin,
      atMin: start,
      text,
    });
  boxes.push({
    code: code(FIRST.done, n),
    entry: { as: 'done', moveId },
    planned: move.endMin,
    atMin: end,
    text,
  });
  const reading = (what: 'temp' | 'ph' | 'iodine', planned?: SummaryBand): SheetBox => ({
    code: code(FIRST[what], n),
    entry: { as: 'reading', what, vessel, moveId },
    ...(planned === undefined ? {} : { planned }),
    atMin: end,
    text,
  });
  const ret = returns.find((r) => r.moveIds.return.includes(moveId));
  const pulled = returns.find((r) => r.moveIds.pull.includes(moveId));
  if (ret !== undefined && ret.moveIds.return.at(-1) === moveId)
    boxes.push(
      {
        code: code(FIRST.landing, ret.pull),
        entry: { as: 'reading', what: 'temp', vessel, moveId },
        planned: ret.landingC,
        atMin: end,
        text,
      },
      {
        code: code(FIRST.portions, n),
        entry: { as: 'portions', moveId },
        atMin: end,
        text,
      },
    );
  else if (pulled !== undefined || move.kind === 'return')
    boxes.push({
      code: code(FIRST.portions, n),
      entry: { as: 'portions', moveId },
      atMin: end,
      text,
    });
  if (READ_AT_END.has(move.kind)) boxes.push(reading('temp', move.toC));
  if (move.kind === 'mash-in') boxes.push(reading('ph'));
  if (move.kind === 'rest' && isTestedFor(move, returns, ordered)) boxes.push(reading('iodine'));
  return boxes;
}

/** Moves at whose end the vessel's temperature says how the day goes. */
const READ_AT_END: ReadonlySet<string> = new Set(['heat', 'mash-in', 'rest', 'pour', 'preheat']);

/** A rest after a return, where iodine says whether the mash may be raised. */
function isTestedFor(
  rest: SummaryMove,
  returns: readonly SummaryReturn[],
  ordered: readonly SummaryMove[],
): boolean {
  return returns.some((r) => {
    const last = ordered.find((m) => m.id === r.moveIds.return.at(-1));
    return last !== undefined && last.vessel === rest.vessel && followsOn(rest, last);
  });
}

/**
 * Three letters that stand for a plan's moves, printed on the sheet.
 *
 * @param summary of the plan
 */
export function sheetMark(summary: PlanSummary): string {
  const said = summary.moves
    .map((m) => `${m.id} ${m.vessel} ${m.startMin.likely.toFixed(1)} ${m.toC.likely.toFixed(1)}`)
    .join('\n');
  let h = 2166136261;
  for (let i = 0; i < said.length; i++) h = Math.imul(h ^ said.charCodeAt(i), 16777619) >>> 0;
  return [0, 1, 2]
    .map((k) => LETTERS[Math.floor(h / LETTERS.length ** k) % LETTERS.length])
    .join('');
}

/** Each place has a weight of its own below the prime 19, so one wrong or two swapped signs show. */
function checkLetter(text: string): string {
  let sum = 0;
  [...text].forEach((sign, i) => {
    const letter = LETTERS.indexOf(sign);
    sum += (i + 2) * (letter >= 0 ? letter : Number(sign) + 1);
  });
  return LETTERS[sum % LETTERS.length] as string;
}

/** Litres near which the wort of a sheet is measured, which picks among gal and bbl [L]. */
export function sheetVolumeL(summary: PlanSummary): number {
  return summary.moves.find((m) => m.kind === 'mash-in')?.volumeL ?? summary.strike.litres;
}

export type FoundBox =
  | { readonly ok: true; readonly box: SheetBox }
  /** `nearest`: codes that differ least from what was typed. */
  | { readonly ok: false; readonly typed: string; readonly nearest: readonly SheetBox[] };

/**
 * The box of a code as typed.
 *
 * @param boxes of the plan's sheet
 * @param typed in any case, spaces and dashes as they come; a letter O counts as 0, I as 1
 */
export function findBox(boxes: readonly SheetBox[], typed: string): FoundBox {
  const plain = typed
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '')
    .replaceAll('O', '0')
    .replaceAll('I', '1');
  const box = boxes.find((b) => b.code === plain);
  if (box !== undefined) return { ok: true, box };
  const ranked = boxes.map((b) => ({ b, d: distance(plain, b.code) })).sort((x, y) => x.d - y.d);
  const least = ranked[0]?.d ?? 0;
  return {
    ok: false,
    typed: plain,
    nearest: ranked
      .filter(({ d }) => d === least)
      .slice(0, 3)
      .map(({ b }) => b),
  };
}

/** Signs to change, put in or leave out, two swapped ones counting as one. */
function distance(a: string, b: string): number {
  const rows: number[][] = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (__, k) => (i === 0 ? k : k === 0 ? i : 0)),
  );
  const at = (i: number, k: number) => (rows[i] as number[])[k] as number;
  for (let i = 1; i <= a.length; i++)
    for (let k = 1; k <= b.length; k++) {
      const same = a[i - 1] === b[k - 1] ? 0 : 1;
      let least = Math.min(at(i - 1, k) + 1, at(i, k - 1) + 1, at(i - 1, k - 1) + same);
      if (i > 1 && k > 1 && a[i - 1] === b[k - 2] && a[i - 2] === b[k - 1])
        least = Math.min(least, at(i - 2, k - 2) + 1);
      (rows[i] as number[])[k] = least;
    }
  return at(a.length, b.length);
}
