import { show, showBand } from '../units/show.ts';
import type { CardSay } from './guide-text.ts';

/** Temperatures on the card in the pair chosen. */
export const cardSay: CardSay = {
  temp: (c) => show('temperature', c, 1),
  band: (b) => showBand('temperature', b, 1),
  target: (c) => show('temperature', c, 0),
};
