/** Where words stand in a stave so that none lies over another. Pure. */
import type { Mark } from './model.ts';

export interface PlacedLabel {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'end';
  readonly strong: boolean;
  /** How wide it is written [px]. */
  readonly wide: number;
}

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const meets = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

/** Width of a letter against the size of the type, measured in the bundled face; strong is bigger too. */
const LETTER_EM = 0.56;
const STRONG_EM = 0.64;

/** The same word twice within this is said once [px]. */
const SAME_PX = 64;

/**
 * Writes labels beside their points: the important first, each at the first free place around its
 * point. One that finds no place is left out; the table has it.
 */
export function placeLabels(
  marks: readonly (Mark & { readonly x: number; readonly y: number })[],
  lines: readonly Box[],
  within: Box,
  fontPx: number,
): PlacedLabel[] {
  const taken: Box[] = [];
  const placed: PlacedLabel[] = [];
  for (const mark of [...marks].sort((a, b) => a.rank - b.rank || a.x - b.x)) {
    if (placed.some((p) => p.text === mark.text && Math.abs(p.x - mark.x) < SAME_PX)) continue;
    const wide = mark.text.length * fontPx * (mark.strong ? STRONG_EM : LETTER_EM) + 4;
    const places: [number, number, 'start' | 'end'][] = [
      [5, -6, 'start'],
      [-5, -6, 'end'],
      [5, fontPx + 4, 'start'],
      [-5, fontPx + 4, 'end'],
      [8, -20, 'start'],
      [8, fontPx + 20, 'start'],
      [-8, fontPx + 20, 'end'],
    ];
    let best: { label: PlacedLabel; box: Box } | undefined;
    for (const [dx, dy, anchor] of places) {
      const tx = mark.x + dx;
      const ty = mark.y + dy;
      const x0 = anchor === 'start' ? tx : tx - wide;
      const box = { x0, y0: ty - fontPx * 0.8, x1: x0 + wide, y1: ty + fontPx * 0.2 };
      const inside =
        box.x0 >= within.x0 && box.x1 <= within.x1 && box.y0 >= within.y0 && box.y1 <= within.y1;
      if (!inside || taken.some((other) => meets(box, other))) continue;
      const label = { text: mark.text, x: tx, y: ty, anchor, strong: mark.strong, wide };
      if (!lines.some((piece) => meets(box, piece))) {
        best = { label, box };
        break;
      }
      // Over a line it can still be read with its halo; a clear place further on is better.
      best ??= { label, box };
    }
    if (best === undefined) continue;
    taken.push(best.box);
    placed.push(best.label);
  }
  return placed;
}
