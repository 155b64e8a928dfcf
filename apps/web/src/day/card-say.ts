import { bare, degree, show } from '../units/show.ts';
import type { CardSay } from './guide-text.ts';

/** Temperatures on the card in the pair chosen; the doubt is half the width of the band. */
export const cardSay: CardSay = {
  temp: (c) => show('temperature', c, 1),
  band: ({ low, likely, high }) =>
    `${bare('temperature', likely, 1)} ± ${bare('temperatureDifference', (high - low) / 2, 1)} ${degree()}`,
  target: (c) => show('temperature', c, 0),
};
