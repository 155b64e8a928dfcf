/** Repairs in the brewer's own units. Pure. */
import type { Repair } from '@ladlework/planner';

/**
 * @param repair as the planner gave it; its own text is in litres
 * @param volume how litres are written
 */
export function repairText(
  repair: Pick<Repair, 'code' | 'text' | 'amountL'>,
  volume: (litres: number) => string,
): string {
  const { code, amountL, text } = repair;
  if (amountL === undefined) return text;
  switch (code) {
    case 'boiling-liquor':
      return `Pour in ${volume(amountL)} of boiling liquor`;
    case 'cold-liquor':
      return `Stir in ${volume(amountL)} of cold liquor`;
    case 'small-pull':
      return `Pull ${volume(amountL)} more, boil it and return it; it adds no water`;
    case 'last-of-reserve':
      return `Return ${volume(amountL)} more of what was kept back`;
    case 'hold-back':
      return `Stop; keep the ${volume(amountL)} back and cool it before it goes in`;
    default:
      return text;
  }
}
