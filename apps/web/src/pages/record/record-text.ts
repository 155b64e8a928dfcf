/** Figures of the record in the pair chosen. */
import type { RecordQuantity } from '@ladlework/log';
import { clockOf, show, showExtract } from '../../units/show.ts';

/** A planned or actual figure; clocks are epoch ms, the others in the house unit. */
export function quantityText(quantity: RecordQuantity | undefined, value: number): string {
  switch (quantity) {
    case 'clock':
      return clockOf(value);
    case 'minutes':
      return show('duration', value);
    case 'temp':
      return show('temperature', value);
    case 'volume':
      return show('volume', value);
    case 'level':
      return show('length', value);
    case 'gravity':
      return showExtract(value);
    case 'ph':
      return `pH ${value.toFixed(2)}`;
    case 'iodine':
      return value > 0.5 ? 'positive' : 'negative';
    case 'portions':
      return String(Math.round(value * 10) / 10);
    case undefined:
      return '';
  }
}

/** Actual less planned, signed; what rounds to nothing carries no sign. Clocks differ in minutes. */
export function deviationText(quantity: RecordQuantity | undefined, off: number): string {
  const size = sizeText(quantity, Math.abs(off));
  const nothing = !/[1-9]/.test(size);
  return nothing ? `±${size}` : `${off > 0 ? '+' : '−'}${size}`;
}

function sizeText(quantity: RecordQuantity | undefined, size: number): string {
  switch (quantity) {
    case 'clock':
    case 'minutes':
      return `${Math.round(size)} min`;
    case 'temp':
      return show('temperatureDifference', size);
    case 'volume':
      return show('volume', size);
    case 'level':
      return show('length', size);
    default:
      return String(Math.round(size * 100) / 100);
  }
}
