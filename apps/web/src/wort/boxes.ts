/** What of the wort is read at which point of the day, and what the pad stands at. Pure. */
import type { BrewState, WortPoint } from '@ladlework/log';
import { volumeAtTemperature } from '@ladlework/matter';
import type { WortAt, WortDay } from '@ladlework/planner';
import type { PadFigure } from '../day/pad-steps.ts';

type WortReadState = BrewState['wortReads'][number];

/** A figure of a reading of wort, as the log names it. */
export type WortFigure =
  | 'litres'
  | 'tempC'
  | 'plato'
  | 'ph'
  | 'tapPlato'
  | 'tapPh'
  | 'flowLMin'
  | 'headM'
  | 'liquorInC'
  | 'wortOutC';

export interface WortBox {
  readonly figure: WortFigure;
  readonly text: string;
  readonly what: PadFigure;
  /** Asked for in turn; the others are there when wanted. */
  readonly usual: boolean;
}

const box = (figure: WortFigure, text: string, what: PadFigure, usual = true): WortBox => ({
  figure,
  text,
  what,
  usual,
});

/** Boxes of each point, in the order they are read. */
export const WORT_BOXES: Readonly<Record<WortPoint, readonly WortBox[]>> = {
  'run-off': [
    box('litres', 'In the kettle', 'volume'),
    box('plato', 'Kettle gravity', 'gravity'),
    box('tapPlato', 'Runnings gravity', 'gravity'),
    box('flowLMin', 'Run-off rate', 'flow'),
    box('headM', 'Liquid above the bed', 'level', false),
    box('tapPh', 'Runnings pH', 'ph', false),
  ],
  'kettle-full': [
    box('tempC', 'Kettle temperature', 'temp'),
    box('litres', 'Kettle, as it stands hot', 'volume'),
    box('plato', 'Kettle gravity', 'gravity'),
    box('ph', 'Kettle pH, cooled', 'ph'),
  ],
  'cast-out': [
    box('litres', 'Kettle, hot, after the boil', 'volume'),
    box('plato', 'Gravity after the boil', 'gravity'),
    box('ph', 'pH after the boil, cooled', 'ph', false),
  ],
  'knock-out': [
    box('wortOutC', 'Wort out of the cooler', 'temp'),
    box('litres', 'In the tank so far', 'volume'),
    box('liquorInC', 'Liquor into the cooler', 'temp', false),
  ],
  tank: [
    box('tempC', 'Tank temperature', 'temp'),
    box('litres', 'In the tank', 'volume'),
    box('plato', 'Tank gravity', 'gravity'),
    box('ph', 'Tank pH', 'ph', false),
  ],
};

/** Minutes before the end of the boil at which the hot wort may be read for the end of it. */
const BOIL_NEARLY_OVER_MIN = 10;

/**
 * Where wort is read now.
 *
 * @param day what is known of the wort
 * @param nowMin minutes after the brew began
 * @returns nothing while there is nothing to read
 */
export function pointNow(day: Pick<WortDay, 'at' | 'boil'>, nowMin: number): WortPoint | undefined {
  if (day.at === 'boil')
    return nowMin >= day.boil.endMin.likely - BOIL_NEARLY_OVER_MIN ? 'cast-out' : undefined;
  return POINT[day.at];
}

const POINT: Readonly<Partial<Record<WortAt, WortPoint>>> = {
  mash: 'run-off',
  'run-off': 'run-off',
  'kettle-full': 'kettle-full',
  stand: 'cast-out',
  'knock-out': 'knock-out',
  tank: 'tank',
};

/** Readings of a point that stand, the oldest first. */
export const readsAt = (
  brew: Pick<BrewState, 'wortReads'>,
  point: WortPoint,
): readonly WortReadState[] =>
  brew.wortReads.filter((r) => r.standing === 'holds' && r.point === point);

/** The box after the one read last, round and round. */
export function nextBox(point: WortPoint, reads: readonly WortReadState[]): WortBox {
  const boxes = WORT_BOXES[point];
  const usual = boxes.filter((b) => b.usual);
  const last = reads.at(-1);
  // A temperature may carry the litres it belongs to: the last box read is the one that was asked.
  const at = last === undefined ? -1 : usual.findLastIndex((b) => askedIn(last, b.figure));
  return usual[(at + 1) % usual.length] as WortBox;
}

function askedIn(read: WortReadState, figure: WortFigure): boolean {
  if (read[figure] === undefined) return false;
  return figure !== 'tempC' || read.litres === undefined;
}

/** The newest figure read at a point. */
export const newest = (reads: readonly WortReadState[], figure: WortFigure): number | undefined =>
  reads.findLast((r) => r[figure] !== undefined)?.[figure];

/** Litres and their temperature belong together, whichever was read first. */
export function withItsTwin(
  figure: WortFigure,
  value: number,
  point: WortPoint,
  reads: readonly WortReadState[],
): Partial<Record<WortFigure | 'phC', number>> {
  if (figure === 'ph') return { ph: value, phC: SAMPLE_C };
  if (point === 'run-off' || point === 'knock-out') return { [figure]: value };
  const twin = figure === 'litres' ? 'tempC' : figure === 'tempC' ? 'litres' : undefined;
  const other = twin === undefined ? undefined : newest(reads, twin);
  return twin === undefined || other === undefined
    ? { [figure]: value }
    : { [figure]: value, [twin]: other };
}

/** pH is read in a cooled sample [°C]. */
const SAMPLE_C = 20;
const USUAL_HEAD_M = 0.1;
const USUAL_RUNNINGS_PH = 5.6;
const USUAL_WORT_PH = 5.2;
/** Litres at hand over this share of a full kettle are the full kettle. */
const NEARLY_FULL = 0.9;
const ROUGH_SHARE = 0.12;

/** What the pad stands at before a figure is typed, SI. */
export function expectedOf(
  day: WortDay,
  point: WortPoint,
  figure: WortFigure,
  reads: readonly WortReadState[],
  facts: { readonly nowMin: number; readonly lastDipMin: number; readonly wortPh?: number },
): number {
  const { lauter, knockOut, stages } = day;
  const [full, castOut, , tank] = stages;
  const last = newest(reads, figure);
  const likely = (band: { readonly likely: number } | undefined) => band?.likely ?? last ?? 0;
  switch (figure) {
    case 'litres':
      if (point === 'run-off') return inKettle(lauter, facts);
      if (point === 'kettle-full')
        return (
          last ??
          (lauter.collectedL > NEARLY_FULL * lauter.kettleL ? lauter.collectedL : lauter.kettleL)
        );
      if (point === 'cast-out')
        return (
          last ?? volumeAtTemperature(likely(castOut?.coldL), 20, day.boil.boilC - 1, ROUGH_SHARE)
        );
      if (point === 'tank') return likely(tank?.coldL);
      return Math.min(
        likely(tank?.coldL),
        Math.max(0, facts.nowMin - knockOut.fromMin.likely) * knockOut.wortLMin.likely,
      );
    case 'plato':
      if (point === 'run-off') return likely(lauter.nowKettlePlato);
      if (point === 'kettle-full') return likely(full?.plato);
      return likely(point === 'cast-out' ? castOut?.plato : tank?.plato);
    case 'tapPlato':
      return likely(lauter.nowTapPlato);
    case 'flowLMin':
      return last ?? flowAhead(lauter, facts);
    case 'tempC':
      return last ?? (point === 'tank' ? knockOut.toC : lauter.readC);
    case 'ph':
      return last ?? facts.wortPh ?? USUAL_WORT_PH;
    case 'tapPh':
      return last ?? USUAL_RUNNINGS_PH;
    case 'headM':
      return last ?? USUAL_HEAD_M;
    case 'liquorInC':
      return knockOut.liquorInC;
    case 'wortOutC':
      return knockOut.outC.likely;
  }
}

interface DipTimes {
  readonly nowMin: number;
  /** The last dip, or the beginning of the run-off. */
  readonly lastDipMin: number;
}

/** Litres a minute that fill the kettle by the end foretold. */
export function flowAhead(lauter: WortDay['lauter'], { lastDipMin }: DipTimes): number {
  const minutes = lauter.endMin.likely - lastDipMin;
  const left = lauter.kettleL - lauter.collectedL;
  return minutes > 1 && left > 0 ? left / minutes : 0;
}

/** What the kettle holds by now, from the last dip on. */
function inKettle(lauter: WortDay['lauter'], times: DipTimes): number {
  const since = Math.max(0, times.nowMin - times.lastDipMin);
  return Math.min(lauter.kettleL, lauter.collectedL + since * flowAhead(lauter, times));
}
