/** Reads a PDF back with a reader that shares no code with the writer: words and strokes in mm. */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

const MM_PER_PT = 25.4 / 72;

/** A word or line of words; x, y of its base line's beginning, from the top left [mm]. */
export interface PdfWords {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** Size of the type [mm]. */
  readonly size: number;
}

/** A straight stroke [mm]. */
export interface PdfStroke {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly dashed: boolean;
}

export interface PdfBox {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

export interface ReadPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly words: readonly PdfWords[];
  readonly strokes: readonly PdfStroke[];
  /** Closed figures of four corners. */
  readonly boxes: readonly PdfBox[];
}

type Matrix = [number, number, number, number, number, number];

const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

/**
 * Every page of a PDF.
 *
 * @param bytes of the file; copied, since the reader keeps what it is handed
 */
export async function readPdf(bytes: Uint8Array): Promise<ReadPage[]> {
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0 });
  const document = await task.promise;
  const pages: ReadPage[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const page = await document.getPage(n);
    const [, , widthPt = 0, heightPt = 0] = page.view;
    const content = await page.getTextContent();
    const words = content.items.flatMap((item) => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [, , , size, x, y] = item.transform as Matrix;
      return [
        {
          text: item.str,
          x: x * MM_PER_PT,
          y: (heightPt - y) * MM_PER_PT,
          width: item.width * MM_PER_PT,
          size: size * MM_PER_PT,
        },
      ];
    });
    const { fnArray, argsArray } = await page.getOperatorList();
    pages.push({
      widthMm: widthPt * MM_PER_PT,
      heightMm: heightPt * MM_PER_PT,
      words,
      ...pathsOf(fnArray, argsArray, heightPt),
    });
  }
  await task.destroy();
  return pages;
}

function pathsOf(names: readonly number[], args: readonly unknown[][], heightPt: number) {
  const strokes: PdfStroke[] = [];
  const boxes: PdfBox[] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  let dashed = false;
  const path: [number, number][] = [];
  const kept: { matrix: Matrix; dashed: boolean }[] = [];
  names.forEach((name, i) => {
    const arg = args[i] ?? [];
    if (name === OPS.save) kept.push({ matrix, dashed });
    else if (name === OPS.restore) {
      const back = kept.pop();
      if (back) ({ matrix, dashed } = back);
    } else if (name === OPS.transform) matrix = times(matrix, arg as Matrix);
    else if (name === OPS.setDash) dashed = (arg[0] as number[]).length > 0;
    else if (name === OPS.constructPath) {
      // The reader may hand a path over in two pieces; it is whole when it is painted.
      const [ops, numbers] = arg as [number[], number[]];
      takeCorners(path, ops, numbers);
    } else if (PAINTS.has(name)) {
      const corners = path.splice(0).map(([x, y]) => ({
        x: (matrix[0] * x + matrix[2] * y + matrix[4]) * MM_PER_PT,
        y: (heightPt - (matrix[1] * x + matrix[3] * y + matrix[5])) * MM_PER_PT,
      }));
      const [a, b] = corners;
      if (corners.length === 2 && a && b)
        strokes.push({ x1: a.x, y1: a.y, x2: b.x, y2: b.y, dashed });
      else if (corners.length >= 4) {
        const xs = corners.map((c) => c.x);
        const ys = corners.map((c) => c.y);
        const [x, y] = [Math.min(...xs), Math.min(...ys)];
        boxes.push({ x, y, w: Math.max(...xs) - x, h: Math.max(...ys) - y });
      }
    }
  });
  return { strokes, boxes };
}

const PAINTS: ReadonlySet<number> = new Set([
  OPS.stroke,
  OPS.closeStroke,
  OPS.fill,
  OPS.eoFill,
  OPS.fillStroke,
  OPS.closeFillStroke,
  OPS.endPath,
]);

/** Corners of a path so far; curves are not drawn on our pages. */
function takeCorners(
  corners: [number, number][],
  ops: readonly number[],
  numbers: readonly number[],
): void {
  let at = 0;
  const take = () => numbers[at++] as number;
  for (const op of ops) {
    if (op === OPS.moveTo) corners.splice(0, corners.length, [take(), take()]);
    else if (op === OPS.lineTo) corners.push([take(), take()]);
    else if (op === OPS.rectangle) {
      const [x, y, w, h] = [take(), take(), take(), take()];
      corners.push([x, y], [x + w, y], [x + w, y + h], [x, y + h]);
    } else if (op !== OPS.closePath) throw new Error(`a path with operator ${op} is not read`);
  }
}

/** A scale as it stands on paper: every stroke with the value its place among the numbers says. */
export interface ReadScale {
  readonly points: readonly { readonly value: number; readonly x: number; readonly y: number }[];
}

/**
 * Reads the scale whose strokes begin on a line.
 *
 * @param page the page
 * @param line the scale's own line
 * @param out which side its strokes are on
 * @throws Error when fewer than two strokes carry numbers, or strokes between two numbers do not
 *   divide evenly
 */
export function readScale(page: ReadPage, line: PdfStroke, out: 'left' | 'right'): ReadScale {
  const feet = page.strokes.flatMap((s) => {
    if (s.dashed || Math.abs(s.y1 - s.y2) > 0.01 || Math.abs(s.x1 - s.x2) > 5) return [];
    const inner = out === 'left' ? Math.max(s.x1, s.x2) : Math.min(s.x1, s.x2);
    const outer = out === 'left' ? Math.min(s.x1, s.x2) : Math.max(s.x1, s.x2);
    if (Math.abs(inner - xOn(line, s.y1)) > 0.05) return [];
    const number = page.words.find((w) => {
      const edge = out === 'left' ? outer - (w.x + w.width) : w.x - outer;
      return (
        edge > 0 && edge < 2 && Math.abs(w.y - 1.2 - s.y1) < 0.1 && /^\d+(\.\d+)?$/.test(w.text)
      );
    });
    return [{ x: inner, y: s.y1, value: number && Number(number.text) }];
  });
  feet.sort((a, b) => a.y - b.y);
  const named = feet.flatMap((f, i) => (f.value === undefined ? [] : [{ i, value: f.value }]));
  if (named.length < 2) throw new Error(`a scale with ${named.length} numbers cannot be read`);
  const per = named.slice(1).map((n, k) => {
    const before = named[k] as (typeof named)[number];
    return (n.value - before.value) / (n.i - before.i);
  });
  const step = per[0] as number;
  if (per.some((p) => Math.abs(p - step) > 1e-9))
    throw new Error(`strokes between numbers divide unevenly: ${per.join(', ')}`);
  const first = named[0] as (typeof named)[number];
  return {
    points: feet.map((f, i) => ({ x: f.x, y: f.y, value: first.value + (i - first.i) * step })),
  };
}

/** x of a line at a height. */
export function xOn(line: PdfStroke, y: number): number {
  if (Math.abs(line.y2 - line.y1) < 1e-9) return line.x1;
  return line.x1 + ((line.x2 - line.x1) * (y - line.y1)) / (line.y2 - line.y1);
}

/**
 * Words that a printer would cut off or that lie on one another.
 *
 * @returns one sentence a fault; none on a page that can be printed
 */
export function untidy(page: ReadPage): string[] {
  const faults: string[] = [];
  const places = page.words.map((w) => ({
    text: w.text,
    x1: w.x,
    x2: w.x + w.width,
    // From the base line up to a capital's height.
    y1: w.y - 0.66 * w.size,
    y2: w.y,
  }));
  for (const [i, a] of places.entries()) {
    if (a.x1 < EDGE_MM || a.x2 > page.widthMm - EDGE_MM)
      faults.push(`"${a.text}" is off the side of the paper`);
    if (a.y1 < EDGE_MM || a.y2 > page.heightMm - EDGE_MM)
      faults.push(`"${a.text}" is off the end of the paper`);
    for (const b of places.slice(i + 1))
      if (a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2)
        faults.push(`"${a.text}" lies on "${b.text}"`);
  }
  return faults;
}

/** What no printer reaches [mm]. Common practice, no source. */
const EDGE_MM = 5;
