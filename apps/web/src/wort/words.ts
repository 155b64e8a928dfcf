/** Wort in words, in the pair chosen. */
import type { BrewState, WortPoint } from '@ladlework/log';
import type { Band } from '@ladlework/quantity';
import { show, showBand, showExtract } from '../units/show.ts';
import type { WortAlarm } from './alarms.ts';

/** "14.2 °P (13.9 °P to 14.5 °P)". */
export const extractBand = ({ low, likely, high }: Band): string =>
  `${showExtract(likely)} (${showExtract(Math.min(low, likely))} to ${showExtract(Math.max(high, likely))})`;

/** "412 L ± 6 L": litres of wort. */
export const litresBand = (band: Band): string => showBand('volume', band);

/** A rate of flow [L/min]: "9.4 L/min". */
export const flowText = (litresAMin: number): string => `${show('volume', litresAMin, 1)}/min`;

/** What an alarm of the boil says. */
export const wortAlarmText = ({ hops }: Pick<WortAlarm, 'hops'>): string =>
  hops.length === 0
    ? 'End of the boil'
    : `Hops: ${hops.map((h) => `${h.name} ${show('mass', h.kg)}`).join(', ')}`;

/** With its sign, as a miss is spoken of: "+0.4 °P". */
export function missText(plato: number, at: number): string {
  const sign = plato < 0 ? '−' : '+';
  const text = showExtract(Math.abs(plato));
  // A miss in SG is a difference of two gravities, and no gravity of its own.
  return text.endsWith('SG')
    ? `${showExtract(at + plato)} for ${showExtract(at)}`
    : `${sign}${text}`;
}

const POINT: Readonly<Record<WortPoint, string>> = {
  'run-off': 'Run-off',
  'kettle-full': 'Full kettle',
  'cast-out': 'After the boil',
  'knock-out': 'Knock-out',
  tank: 'Tank',
};

/** A reading of wort as the log of the day tells it. */
export function wortReadText(read: BrewState['wortReads'][number]): string {
  const figures = [
    ...(read.litres === undefined ? [] : [show('volume', read.litres)]),
    ...(read.tempC === undefined ? [] : [show('temperature', read.tempC)]),
    ...(read.plato === undefined ? [] : [showExtract(read.plato)]),
    ...(read.ph === undefined ? [] : [`pH ${read.ph.toFixed(2)}`]),
    ...(read.tapPlato === undefined ? [] : [`runnings ${showExtract(read.tapPlato)}`]),
    ...(read.tapPh === undefined ? [] : [`runnings pH ${read.tapPh.toFixed(2)}`]),
    ...(read.flowLMin === undefined ? [] : [flowText(read.flowLMin)]),
    ...(read.headM === undefined ? [] : [`${show('length', read.headM)} above the bed`]),
    ...(read.liquorInC === undefined ? [] : [`liquor ${show('temperature', read.liquorInC)}`]),
    ...(read.wortOutC === undefined
      ? []
      : [`out of the cooler ${show('temperature', read.wortOutC)}`]),
  ];
  return `${POINT[read.point]}: ${figures.join(', ')}`;
}
