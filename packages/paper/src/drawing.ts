/**
 * A page as lines, boxes and words, in millimetres from its top left corner. The same page becomes
 * PDF and SVG, so that what is looked at is what is printed.
 */
import { textWidthMm } from './letters.ts';

export type PaperSize = 'a4' | 'letter';

/** Width and height of the sheet [mm]. @source ISO 216 (A4); ANSI/ASME Y14.1 (Letter) */
export const PAPER: Readonly<Record<PaperSize, readonly [number, number]>> = {
  a4: [210, 297],
  letter: [215.9, 279.4],
};

/** Printers leave this much white [mm]. Common practice, no source. */
export const MARGIN_MM = 10;

export interface LineMark {
  readonly kind: 'line';
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly widthMm: number;
  readonly dashed: boolean;
}

export interface BoxMark {
  readonly kind: 'box';
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  readonly widthMm: number;
  /** Filled light grey, a head that stays legible when wet. */
  readonly shaded: boolean;
}

export interface TextMark {
  readonly kind: 'text';
  /** Where the text begins, is centred or ends, and its base line. */
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly sizePt: number;
  readonly bold: boolean;
  readonly anchor: 'start' | 'middle' | 'end';
}

export type Mark = LineMark | BoxMark | TextMark;

export interface PaperPage {
  readonly size: PaperSize;
  /** What the page is, for screen readers and as title of a print. */
  readonly title: string;
  readonly marks: readonly Mark[];
}

export interface TextStyle {
  readonly sizePt?: number;
  readonly bold?: boolean;
  readonly anchor?: TextMark['anchor'];
}

/** Hairline, line and strong line [mm]. */
export const THIN = 0.15;
export const LINE = 0.3;
export const STRONG = 0.7;

/** A page under the pen. */
export class Pen {
  readonly widthMm: number;
  readonly heightMm: number;
  private readonly size: PaperSize;
  private readonly marks: Mark[] = [];

  constructor(size: PaperSize) {
    this.size = size;
    [this.widthMm, this.heightMm] = PAPER[size];
  }

  line(x1: number, y1: number, x2: number, y2: number, widthMm = LINE, dashed = false): void {
    this.marks.push({ kind: 'line', x1, y1, x2, y2, widthMm, dashed });
  }

  box(x: number, y: number, w: number, h: number, widthMm = LINE, shaded = false): void {
    this.marks.push({ kind: 'box', x, y, w, h, widthMm, shaded });
  }

  /** @returns the length of the text [mm] */
  text(x: number, y: number, text: string, style: TextStyle = {}): number {
    const { sizePt = 9, bold = false, anchor = 'start' } = style;
    this.marks.push({ kind: 'text', x, y, text, sizePt, bold, anchor });
    return textWidthMm(text, sizePt, bold);
  }

  page(title: string): PaperPage {
    return { size: this.size, title, marks: this.marks };
  }
}
