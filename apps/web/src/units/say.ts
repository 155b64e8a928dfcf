import type { Say } from '@ladlework/brewhouse';
import { bare, degree, show } from './show.ts';

/** Quantities in the pair chosen; temperatures of plans carry one decimal only where it matters. */
export const say: Say = {
  temp: (c) => show('temperature', c, 0),
  volume: (litres) => show('volume', litres),
  mass: (kg) => show('mass', kg),
  minutes: (min) => show('duration', min),
  ratio: (r) => show('ratio', r, 1),
};

/** "63.2": a temperature on the score, whose unit stands at the stave. */
export const shortTemp = (c: number): string => bare('temperature', c, 1);

export { degree };
