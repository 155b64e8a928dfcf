/**
 * The brew sheet: the day's moves with a box for everything the screen asks, on one page where it
 * can be read when wet.
 */
import type { PlanSummary } from '@ladlework/log';
import { sheetMark } from '@ladlework/log';
import type { Caution, Plan, PlanDocument } from '@ladlework/planner';
import { format, formatBand, sentenceIn, type UnitPair } from '@ladlework/quantity';
import { LINE, MARGIN_MM, type PaperPage, type PaperSize, Pen, STRONG, THIN } from './drawing.ts';
import { linesOf, textWidthMm } from './letters.ts';
import {
  CAUTION_WORD,
  type FieldRow,
  type MoveRow,
  type SheetRow,
  sheetRows,
} from './sheet-rows.ts';

export interface SheetFacts {
  readonly size: PaperSize;
  readonly pair: UnitPair;
  /** What the brew is told apart by, and when it was printed, as they are to be read. */
  readonly brew: string;
  readonly printed: string;
  /** Sentences for the foot beside the cautions: what has no chart, and why. */
  readonly remarks: readonly string[];
}

/** A row is never lower than this: two lines and a pencil; nor higher than needed [mm]. */
const LEAST_ROW_MM = 5.2;
const MOST_ROW_MM = 10;
const NOTE_ROW_MM = 6.2;
/** Where the boxes begin, from the right [mm]. */
const SLOT_MM = 22.5;
/** Where hands and words begin, from the left margin [mm]. */
const WHO_MM = 16;
const WHAT_MM = 24;
const CODE_MM = 9;
const FIGURE_MM = 13;
const HEADS = ['begun', 'done', 'reads', 'count'] as const;
const FOOT_PT = 7.5;
const FOOT_LINE_MM = 3.4;

/**
 * The sheet of a day.
 *
 * @param document kit, beer, mash and day
 * @param plan made from it
 * @param summary of the plan, as the log keeps it
 * @param facts paper, units, names
 * @returns one page; more when the day has more rows than fit at a size that can be written in
 */
export function brewSheet(
  document: PlanDocument,
  plan: Plan,
  summary: PlanSummary,
  facts: SheetFacts,
): PaperPage[] {
  const rows = sheetRows(document, plan, summary, facts.pair);
  const foot = footLines(plan, facts);
  const pages: PaperPage[] = [];
  let left: readonly SheetRow[] = rows;
  while (left.length > 0) {
    const sheet = new Sheet(document, plan, summary, facts, pages.length + 1);
    left = sheet.fill(left, foot);
    pages.push(sheet.page());
  }
  return pages;
}

/** Each caution once, with its worst figure, and the remarks. */
function footLines(
  plan: Plan,
  facts: SheetFacts,
): { readonly text: string; readonly bold: boolean }[] {
  const worst = new Map<Caution['code'], Caution>();
  for (const caution of plan.cautions) {
    const known = worst.get(caution.code);
    if (known === undefined || (caution.severity ?? 0) > (known.severity ?? 0))
      worst.set(caution.code, caution);
  }
  const width = new Pen(facts.size).widthMm - 2 * MARGIN_MM;
  const said = [...worst.values()].map(
    (c) => `${CAUTION_WORD[c.code]}: ${sentenceIn(c.text, facts.pair)}`,
  );
  return [
    ...said.flatMap((text) =>
      linesOf(text, width, FOOT_PT, true).map((t) => ({ text: t, bold: true })),
    ),
    ...facts.remarks.flatMap((text) =>
      linesOf(text, width, FOOT_PT).map((t) => ({ text: t, bold: false })),
    ),
  ];
}

const heightOf = (row: SheetRow, rowMm: number): number =>
  row.kind === 'note' ? NOTE_ROW_MM : rowMm;

class Sheet {
  private readonly document: PlanDocument;
  private readonly plan: Plan;
  private readonly summary: PlanSummary;
  private readonly facts: SheetFacts;
  private readonly number: number;
  private readonly pen: Pen;
  private readonly right: number;
  private readonly slots: number;

  constructor(
    document: PlanDocument,
    plan: Plan,
    summary: PlanSummary,
    facts: SheetFacts,
    number: number,
  ) {
    this.document = document;
    this.plan = plan;
    this.summary = summary;
    this.facts = facts;
    this.number = number;
    this.pen = new Pen(facts.size);
    this.right = this.pen.widthMm - MARGIN_MM;
    this.slots = this.right - HEADS.length * SLOT_MM;
  }

  page(): PaperPage {
    return this.pen.page(`Brew sheet: ${this.document.beer.name}`);
  }

  /** Fills the page; gives back the rows that did not fit. */
  fill(rows: readonly SheetRow[], foot: ReturnType<typeof footLines>): readonly SheetRow[] {
    const top = this.head();
    const footMm = foot.length * FOOT_LINE_MM + 2;
    const roomMm = this.pen.heightMm - MARGIN_MM - footMm - top;
    const least = rows.reduce((sum, r) => sum + heightOf(r, LEAST_ROW_MM), 0);
    const fixed = rows.reduce((sum, r) => sum + (r.kind === 'note' ? NOTE_ROW_MM : 0), 0);
    const flexible = rows.filter((r) => r.kind !== 'note').length;
    const fits = least <= roomMm;
    const rowMm = fits
      ? Math.min(MOST_ROW_MM, (roomMm - fixed) / Math.max(1, flexible))
      : LEAST_ROW_MM;
    let y = top;
    let n = 0;
    // A line under the last row says what follows on the next page, and why.
    const room = roomMm - (fits ? 0 : FOOT_LINE_MM + 1);
    for (const row of rows) {
      const height = heightOf(row, rowMm);
      if (y + height > top + room + 1e-6) break;
      this.row(row, y, height);
      y += height;
      n++;
    }
    const left = rows.slice(n);
    if (left.length > 0)
      this.pen.text(
        MARGIN_MM,
        y + FOOT_LINE_MM,
        `${left.length === 1 ? 'One row follows' : `${left.length} rows follow`} on page ${this.number + 1}: at a size that can be written in, this day has more than one page holds.`,
        { sizePt: 8, bold: true },
      );
    let line = this.pen.heightMm - MARGIN_MM - footMm + FOOT_LINE_MM + 1;
    this.pen.line(MARGIN_MM, line - FOOT_LINE_MM, this.right, line - FOOT_LINE_MM, THIN);
    for (const { text, bold } of foot) {
      this.pen.text(MARGIN_MM, line, text, { sizePt: FOOT_PT, bold });
      line += FOOT_LINE_MM;
    }
    return left;
  }

  /** @returns where the rows begin [mm] */
  private head(): number {
    const { pen, document, plan, facts } = this;
    const { beer, kit, mash } = document;
    const { pair } = facts;
    const more = this.number > 1 ? `, page ${this.number}` : '';
    pen.text(MARGIN_MM, 14.5, this.fitted(`${beer.name}${more}`, 110, 17, 10, true), {
      sizePt: this.size(`${beer.name}${more}`, 110, 17, 10, true),
      bold: true,
    });
    pen.text(this.right, 12.5, `Sheet ${sheetMark(this.summary)}`, {
      sizePt: 12,
      bold: true,
      anchor: 'end',
    });
    const told = [facts.brew, `printed ${facts.printed}`].filter((p) => p !== '').join(' · ');
    pen.text(this.right, 16.4, told, { sizePt: 7.5, anchor: 'end' });
    const kg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
    const rests = mash.rests.map((r) => format('temperature', r.tempC, pair, { digits: 0 }));
    const facts2 = `${kit.name} · grist ${format('mass', kg, pair)} · ${format('ratio', mash.liquorLPerKg, pair)} · strike ${format('volume', plan.strike.litres, pair)} at ${formatBand('temperature', plan.strike.tempC, pair)} · mash ${format('volume', plan.strike.mashL, pair)} · rests ${rests.join(', ')}`;
    const wide = this.right - MARGIN_MM;
    pen.text(MARGIN_MM, 19.8, this.fitted(facts2, wide, 8.5, 6.5, false), {
      sizePt: this.size(facts2, wide, 8.5, 6.5, false),
    });
    const blanks = ['Date', 'Brew number', 'Brewer', 'Helper'];
    blanks.forEach((name, i) => {
      const x = MARGIN_MM + (i * wide) / blanks.length;
      const length = pen.text(x, 26, name, { sizePt: 8.5, bold: true });
      pen.line(x + length + 1.5, 26.5, x + wide / blanks.length - 3, 26.5, THIN);
    });
    const y = 30.5;
    pen.text(MARGIN_MM, y, 'clock', { sizePt: 7.5 });
    pen.text(MARGIN_MM + WHO_MM, y, 'who', { sizePt: 7.5 });
    pen.text(MARGIN_MM + WHAT_MM, y, 'what, and what is expected (low to high)', { sizePt: 7.5 });
    HEADS.forEach((head, i) => {
      pen.text(this.slots + i * SLOT_MM + CODE_MM, y, head, { sizePt: 7.5, bold: true });
    });
    pen.line(MARGIN_MM, y + 1.2, this.right, y + 1.2, STRONG);
    return y + 1.2;
  }

  private row(row: SheetRow, y: number, height: number): void {
    if (row.kind === 'move') this.move(row, y, height);
    else if (row.kind === 'fields') this.fields(row, y, height);
    else {
      this.pen.text(MARGIN_MM, y + height - 1.6, row.code, { sizePt: 7.5, bold: true });
      this.pen.line(MARGIN_MM + CODE_MM, y + height - 1, this.right, y + height - 1, THIN);
      return;
    }
    this.pen.line(MARGIN_MM, y + height, this.right, y + height, THIN);
  }

  private move(row: MoveRow, y: number, height: number): void {
    const { pen } = this;
    const first = y + height / 2 - 0.15;
    const second = y + height / 2 + 2.35;
    pen.text(MARGIN_MM, first, row.clock, { sizePt: 9, bold: true });
    if (row.until !== '' && row.until !== row.clock)
      pen.text(MARGIN_MM, second, row.until, { sizePt: 6.8 });
    pen.text(MARGIN_MM + WHO_MM, first + 1.3, row.hands, { sizePt: 10, bold: true });
    const x = MARGIN_MM + WHAT_MM;
    const wide = this.slots - 1.5 - x;
    pen.text(x, first, this.fitted(row.text, wide, 8.5, 6.5, true), {
      sizePt: this.size(row.text, wide, 8.5, 6.5, true),
      bold: true,
    });
    const care = row.cautions.join(' ');
    const careMm = care === '' ? 0 : textWidthMm(care, 7, true) + 2;
    if (care !== '')
      pen.text(this.slots - 1.5, second, care, { sizePt: 7, bold: true, anchor: 'end' });
    pen.text(x, second, this.fitted(row.planned, wide - careMm, 7, 5.5, false), {
      sizePt: this.size(row.planned, wide - careMm, 7, 5.5, false),
    });
    for (const { code, column, unit } of row.boxes) {
      const left = this.slots + column * SLOT_MM;
      pen.text(left + CODE_MM - 0.8, first, code, { sizePt: 7.5, bold: true, anchor: 'end' });
      pen.text(left + CODE_MM - 0.8, second, unit, { sizePt: 6, anchor: 'end' });
      pen.box(left + CODE_MM, y + 0.6, SLOT_MM - CODE_MM - 0.6, height - 1.2, LINE);
    }
  }

  private fields(row: FieldRow, y: number, height: number): void {
    const { pen } = this;
    const middle = y + height / 2 + 1;
    const x0 = MARGIN_MM + WHAT_MM;
    pen.text(MARGIN_MM, middle, row.title, { sizePt: 7.5, bold: true });
    const step = (this.right - x0) / (row.tick ? 4 : 2);
    row.fields.forEach(({ code, text, units }, i) => {
      let x = x0 + i * step + CODE_MM;
      const end = x0 + (i + 1) * step - 1;
      pen.text(x - 0.8, middle, code, { sizePt: 7.5, bold: true, anchor: 'end' });
      for (const unit of row.tick ? [''] : units) {
        const boxMm = row.tick ? height - 1.2 : FIGURE_MM;
        pen.box(x, y + 0.6, boxMm, height - 1.2, LINE);
        x +=
          boxMm + 1 + (unit === '' ? 0 : pen.text(x + boxMm + 1, middle, unit, { sizePt: 7 }) + 2);
      }
      const wide = end - x;
      pen.text(x, middle, this.fitted(text, wide, 7.5, 6, false), {
        sizePt: this.size(text, wide, 7.5, 6, false),
        bold: false,
      });
    });
  }

  /** Type as large as the width allows, between two sizes [pt]. */
  private size(text: string, wide: number, most: number, least: number, bold: boolean): number {
    const full = textWidthMm(text, most, bold);
    return full <= wide ? most : Math.max(least, Math.floor((most * wide * 20) / full) / 20);
  }

  /** The text as far as it fits at the smallest size. */
  private fitted(text: string, wide: number, most: number, least: number, bold: boolean): string {
    const sizePt = this.size(text, wide, most, least, bold);
    if (textWidthMm(text, sizePt, bold) <= wide) return text;
    let cut = text;
    while (cut.length > 1 && textWidthMm(`${cut}…`, sizePt, bold) > wide) cut = cut.slice(0, -1);
    return `${cut}…`;
  }
}
