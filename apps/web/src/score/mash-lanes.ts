/** The mash of one vessel as small plots under its stave, before any pixel. Pure. */

import type { Say } from '@ladlework/brewhouse';
import type { MashBand, MashFigure } from '@ladlework/planner';

/** One line of a plot, over one stand of mash in the vessel. */
export interface LaneLine {
  readonly timeMin: readonly number[];
  readonly low: readonly number[];
  readonly likely: readonly number[];
  readonly high: readonly number[];
  /** The second line of a plot is dashed. */
  readonly dashed: boolean;
  /** What it is, where a plot has two lines. */
  readonly word: string;
}

/** A word or figure written into a plot. */
export interface LaneMark {
  readonly atMin: number;
  readonly value: number;
  readonly text: string;
}

export interface Lane {
  readonly name: string;
  /** Value at the top of the plot; 0 is at its foot. */
  readonly most: number;
  readonly mostText: string;
  readonly lines: readonly LaneLine[];
  /** The name of each of two lines where they are furthest apart, and what is left at the end. */
  readonly marks: readonly LaneMark[];
  /** What is left at the end of the last stand. */
  readonly ends: string;
}

interface LaneOf {
  readonly name: string;
  readonly lines: readonly { readonly figure: MashFigure; readonly word: string }[];
}

/** What is drawn, from top to bottom. */
const LANES: readonly LaneOf[] = [
  {
    name: 'Starch',
    lines: [
      { figure: 'starchRaw', word: 'in the grain' },
      { figure: 'starchOpen', word: 'opened' },
    ],
  },
  { name: 'Extract', lines: [{ figure: 'extractKg', word: '' }] },
  { name: 'Fermentable', lines: [{ figure: 'fermentableShare', word: '' }] },
  {
    name: 'Enzymes',
    lines: [
      { figure: 'alphaLeft', word: 'alpha' },
      { figure: 'betaLeft', word: 'beta' },
    ],
  },
];

/**
 * @param vessel whose stave they stand under
 * @param bands of all vessels; extract has one scale for all, so that they compare
 * @param say how a mass is written
 * @returns nothing for a vessel that holds no mash
 */
export function lanesFor(vessel: string, bands: readonly MashBand[], say: Say): Lane[] {
  const own = bands.filter((b) => b.vessel === vessel);
  if (own.length === 0) return [];
  return LANES.map(({ name, lines }) => {
    const isMass = lines.some((l) => l.figure === 'extractKg');
    const most = isMass ? Math.max(1e-9, ...bands.flatMap((b) => b.figures.extractKg.high)) : 1;
    const text = (value: number) => (isMass ? say.mass(value) : `${Math.round(value * 100)} %`);
    const linesOf = (b: MashBand) =>
      lines.map(({ figure, word }, n): LaneLine => {
        const { low, likely, high } = b.figures[figure];
        return { timeMin: b.timeMin, low, likely, high, dashed: n > 0, word };
      });
    const stands = own.map(linesOf);
    const ends = stands.map((stand) => endMark(stand, text));
    return {
      name,
      most,
      mostText: text(most),
      lines: stands.flat(),
      marks: [...ends, ...stands.flatMap((stand) => nameMarks(stand, most))],
      ends: ends.at(-1)?.text ?? '',
    };
  });
}

/** What is left when the mash leaves the vessel: "alpha 29 %, beta 3 %". */
function endMark(stand: readonly LaneLine[], text: (value: number) => string): LaneMark {
  const ends = stand.map((l) => ({ word: l.word, value: l.likely.at(-1) ?? 0 }));
  return {
    atMin: stand[0]?.timeMin.at(-1) ?? 0,
    value: Math.max(...ends.map((e) => e.value)),
    text: ends.map((e) => `${e.word} ${text(e.value)}`.trim()).join(', '),
  };
}

/** Lines this near each other, of the height of the plot, cannot be told apart by a word beside them. */
const APART = 0.12;

function nameMarks([a, b]: readonly LaneLine[], most: number): LaneMark[] {
  if (a === undefined || b === undefined) return [];
  const gap = (i: number) => Math.abs((a.likely[i] ?? 0) - (b.likely[i] ?? 0));
  const i = a.timeMin.reduce((best, _, k) => (gap(k) > gap(best) ? k : best), 0);
  if (gap(i) < APART * most) return [];
  const atMin = a.timeMin[i] ?? 0;
  return [a, b].map((l) => ({ atMin, value: l.likely[i] ?? 0, text: l.word }));
}
