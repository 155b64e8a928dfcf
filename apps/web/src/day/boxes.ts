/** Which boxes can be read on the pad: a vessel, and what is read of it. */
import type { ReadingWhat } from '@ladlework/log';

export type PadWhat = Exclude<ReadingWhat, 'level'>;

export interface Box {
  readonly vessel: string;
  readonly what: PadWhat;
}

export const WHATS: readonly { readonly value: PadWhat; readonly text: string }[] = [
  { value: 'temp', text: 'temp' },
  { value: 'volume', text: 'volume' },
  { value: 'gravity', text: 'gravity' },
  { value: 'ph', text: 'pH' },
  { value: 'iodine', text: 'iodine' },
];

export const whatText = (what: PadWhat): string =>
  WHATS.find((w) => w.value === what)?.text ?? what;

/** What is usually read where nobody knows better: mash pH, first wort. */
const USUAL: Readonly<Record<Exclude<PadWhat, 'temp' | 'volume' | 'iodine'>, number>> = {
  ph: 5.4,
  gravity: 12,
};

/**
 * Preset of the pad.
 *
 * @param box what is read
 * @param known temperature and volume by the forecast, else by the plan
 * @param lastValue what the same box said last
 * @param brimL of the vessel [L]
 * @returns in the unit of what is read
 */
export function presetFor(
  box: Box,
  known: { readonly tempC: number | undefined; readonly volumeL: number | undefined },
  lastValue: number | undefined,
  brimL: number,
): number {
  switch (box.what) {
    case 'temp':
      return known.tempC ?? lastValue ?? 60;
    case 'volume':
      return known.volumeL ?? lastValue ?? brimL / 2;
    case 'iodine':
      return 0;
    default:
      return lastValue ?? USUAL[box.what];
  }
}
