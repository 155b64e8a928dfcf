/** What a tap on the wort writes into the log. */
import type { BrewState, WortPoint } from '@ladlework/log';
import type { KettleWayLine } from '@ladlework/planner';
import { record } from '../data/house.ts';
import type { WortFigure } from './boxes.ts';

/** One figure of the wort, with what belongs to it. */
export async function readWort(
  brew: BrewState,
  point: WortPoint,
  figures: Partial<Record<WortFigure | 'phC', number>>,
  text: string,
): Promise<void> {
  await record({ stream: brew.stream, type: 'wort-read', data: { point, ...figures, text } });
}

/** The way taken from the full kettle. */
export async function chooseWay(
  brew: BrewState,
  line: Pick<KettleWayLine, 'way' | 'minutes' | 'liquorL' | 'extractKg'>,
  text: string,
): Promise<void> {
  const { way, minutes, liquorL, extractKg } = line;
  await record({
    stream: brew.stream,
    type: 'kettle-chosen',
    data: { way, minutes, liquorL, extractKg, text },
  });
}
