/** Moves in the brewer's words. */
import type { Kit } from './kit.ts';
import type { Move, MoveKind, Thickness } from './moves.ts';

/** How quantities are written; the page hands in the pair's, tests hand in plain ones. */
export interface Say {
  temp(c: number): string;
  volume(litres: number): string;
  mass(kg: number): string;
  minutes(min: number): string;
  ratio(litresPerKg: number): string;
}

/** The plain verb of a move, as it stands on a button. */
export const VERB: Readonly<Record<MoveKind, string>> = {
  fill: 'Fill',
  heat: 'Heat',
  hold: 'Hold',
  boil: 'Boil',
  preheat: 'Warm',
  'mash-in': 'Mash in',
  rest: 'Rest',
  pull: 'Pull',
  return: 'Return',
  pour: 'Pour',
  rinse: 'Rinse',
  wait: 'Stir',
};

/** Name of a vessel, burner, route or hand of the kit; its id when the kit knows none. */
export function nameIn(kit: Kit, id: string): string {
  const things = [...kit.vessels, ...kit.burners, ...kit.routes, ...kit.hands];
  return things.find((thing) => thing.id === id)?.name ?? id;
}

/** How a thickness is asked for. */
export function thicknessText(thickness: Thickness, say: Say): string {
  if (thickness === 'thick') return 'thick';
  if (thickness === 'thin') return 'thin';
  if (thickness === 'as-it-comes') return 'as it comes';
  return `at ${say.ratio(thickness.liquorLPerKg)}`;
}

/**
 * What to do and how much of it, one line for the top of the screen.
 *
 * @example "Pull 38 L thick, Tun to Pot"
 */
export function moveText(move: Move, kit: Kit, say: Say): string {
  const name = (id: string) => nameIn(kit, id);
  switch (move.kind) {
    case 'fill':
      return `Fill ${name(move.vessel)}: ${say.volume(move.litres)} at ${say.temp(move.tempC)}`;
    case 'heat':
      return move.to === 'boil'
        ? `Heat ${name(move.vessel)} to the boil`
        : `Heat ${name(move.vessel)} to ${say.temp(move.to)}`;
    case 'hold':
      return `Hold ${name(move.vessel)}, ${say.minutes(move.minutes)}`;
    case 'boil':
      return `Boil ${name(move.vessel)}, ${say.minutes(move.minutes)}`;
    case 'preheat':
      return `Warm ${name(move.vessel)} with ${say.volume(move.litres)} from ${name(move.from)}`;
    case 'mash-in':
      return move.from === move.vessel
        ? `Mash in ${say.mass(move.grist.kg)} in ${name(move.vessel)}`
        : `Mash in ${say.mass(move.grist.kg)} with ${say.volume(move.litres)} from ${name(move.from)}`;
    case 'rest':
      return `Rest ${name(move.vessel)}${move.unstirred ? ' unstirred' : ''}, ${say.minutes(move.minutes)}`;
    case 'pull':
      return `Pull ${say.volume(move.litres)} ${thicknessText(move.thickness, say)}, ${name(move.from)} to ${name(move.to)}`;
    case 'return': {
      const amount = move.litres === undefined ? '' : ` ${say.volume(move.litres)}`;
      const stop = move.stopAtC === undefined ? '' : `, stop at ${say.temp(move.stopAtC)}`;
      return `Return${amount}, ${name(move.from)} to ${name(move.to)}${stop}`;
    }
    case 'pour': {
      const stop = move.stopAtC === undefined ? '' : `, stop at ${say.temp(move.stopAtC)}`;
      return `Pour ${say.volume(move.litres)} from ${name(move.from)} into ${name(move.to)}${stop}`;
    }
    case 'rinse':
      return `Rinse ${name(move.vessel)}`;
    case 'wait':
      return move.hands.length === 0
        ? `Let ${name(move.vessel)} stand, ${say.minutes(move.minutes)}`
        : `Stir ${name(move.vessel)} and read, ${say.minutes(move.minutes)}`;
  }
}

/** Vessels a move touches, the one acted on first. */
export function vesselsOf(move: Move): readonly string[] {
  switch (move.kind) {
    case 'pull':
    case 'return':
    case 'pour':
      return [move.to, move.from];
    case 'mash-in':
    case 'preheat':
      return move.from === move.vessel ? [move.vessel] : [move.vessel, move.from];
    default:
      return [move.vessel];
  }
}
