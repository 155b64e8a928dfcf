/** What a three-pull day costs: one draw, and the whole plan with its bands. */
import { NOMINAL, simulate } from '@ladlework/brewhouse';
import { brewDay, openingSituation, planDay, sizeMash, sizeStrike } from '@ladlework/planner';
import { dayOptions } from '../packages/planner/src/day.ts';
import { THREE_PULLS } from '../packages/planner/src/three-barrels.ts';
import { type Bench, compare, type Ratio } from './support/measure.ts';

const DRAWS = 200;

async function run(): Promise<readonly Ratio[]> {
  const day = brewDay(THREE_PULLS);
  const { moves } = sizeMash(day, sizeStrike(day), undefined);
  const start = openingSituation(day);
  const heatUp = moves.slice(0, 1).concat({
    id: 'up',
    kind: 'heat',
    vessel: 'kettle',
    burner: 'jet',
    to: 76,
    lidOn: true,
    hands: [],
  });
  const baseline = {
    what: 'one kettle heated up',
    run: () => simulate(day.kit, start, heatUp, dayOptions(day, NOMINAL)),
  };
  const whole = {
    what: 'three-pull day, one draw, heat and mass',
    run: () => simulate(day.kit, start, moves, dayOptions(day, NOMINAL)),
  };
  const plan = (mash: 'off' | undefined) => ({
    what: `plan of it, ${DRAWS} draws, ${mash === 'off' ? 'heat and mass' : 'with the mash kinetics'}`,
    run: () => planDay(THREE_PULLS, { draws: DRAWS, changes: false, ...(mash ? { mash } : {}) }),
  });
  return [
    await compare(whole, baseline, { note: `${moves.length} moves` }),
    await compare(plan('off'), whole),
    await compare(plan(undefined), whole),
  ];
}

export const bench: Bench = { about: 'cost of simulating and planning a three-pull day', run };
