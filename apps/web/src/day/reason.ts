/** Why a move is made, for somebody who was handed the ladle today. Pure. */
import type { PlanSummary, SummaryMove } from '@ladlework/log';

/**
 * What a move is for, in three plain sentences at most.
 *
 * @param move of the plan
 * @param summary the plan it stands in; says what a pull or return is to reach
 * @param temp writes a temperature [°C] in the brewer's units
 * @returns `undefined` for a kind of move this version does not know
 */
export function reasonOf(
  move: SummaryMove,
  summary: PlanSummary | undefined,
  temp: (tempC: number) => string,
): string | undefined {
  const { kind } = move;
  const target = summary?.returns.find((r) =>
    [...r.moveIds.pull, ...r.moveIds.return].includes(move.id),
  )?.targetC;
  switch (kind) {
    case 'fill':
      return 'The plan reckons with exactly this much liquor. A litre more or less lands the mash elsewhere.';
    case 'preheat':
      return 'A cold vessel takes heat out of the mash. Warmed first, it takes almost none.';
    case 'heat':
      return `What comes next waits until this stands at ${temp(move.toC.likely)}.`;
    case 'hold':
      return 'It has to be as hot when it is wanted as it is now.';
    case 'mash-in':
      return 'Malt and liquor have to meet evenly. A dry lump gives nothing, and hides from the thermometer.';
    case 'rest':
      return `Around ${temp(move.toC.likely)} the malt turns starch to sugar. The minutes decide what beer it becomes.`;
    case 'pull':
      return target === undefined
        ? 'This part is boiled and comes back later.'
        : `This part is boiled and comes back later, and its heat lifts the whole mash to ${temp(target)}. Too little lands low, too much lands high.`;
    case 'boil':
      return 'Boiling opens what is left of the starch, gives colour, and stores the heat for the way back. It scorches where nobody stirs.';
    case 'return':
      return target === undefined
        ? 'The boiling mash heats the tun. What is in cannot be taken out again, so it goes in by portions.'
        : `The boiling mash lifts the tun to ${temp(target)}. What is in cannot be taken out again, so it goes in by portions, stirred, and read.`;
    case 'pour':
      return 'What was kept back goes in with the rest: it belongs to the mash and its heat was reckoned with.';
    case 'rinse':
      return 'What sticks to the vessel is mash too, and what dries on is scrubbed off tonight.';
    case 'wait':
      return 'Hot and cold places even out before anybody believes the thermometer.';
    default:
      return undefined;
  }
}
