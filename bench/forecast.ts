import { NOMINAL, simulate } from '@ladlework/brewhouse';
import {
  applyEntry,
  brewDay,
  type DaySession,
  forecastDay,
  forecastLanding,
  openDay,
  openingSituation,
  repairsFor,
} from '@ladlework/planner';
import { dayOptions } from '../packages/planner/src/day.ts';
import { hiddenDay, movesFor, TWO_PULLS } from '../packages/planner/src/live-testing.ts';
import { type Bench, compare } from './support/measure.ts';

const DRAWS = 400;

/** A session of the two-pull day after one of its taps. */
function after(kind: 'begun' | 'done', moveId: string): DaySession {
  const moves = movesFor(TWO_PULLS);
  let session = openDay(TWO_PULLS, moves, { draws: DRAWS });
  for (const tap of hiddenDay(TWO_PULLS, moves, NOMINAL).taps) {
    session = applyEntry(session, tap);
    if (tap.kind === kind && 'moveId' in tap && tap.moveId === moveId) return session;
  }
  throw new Error(`the day has no ${kind} ${moveId}`);
}

export const bench: Bench = {
  about:
    'The live forecasts over 400 particles on one core, against 400 simulations of the whole two-pull day; 150 ms is the target mid-day.',
  run: async () => {
    const day = brewDay(TWO_PULLS);
    const moves = movesFor(TWO_PULLS);
    const opening = openingSituation(day);
    const baseline = {
      what: `${DRAWS} whole days, nominal`,
      run: () => {
        for (let i = 0; i < DRAWS; i++) simulate(day.kit, opening, moves, dayOptions(day));
      },
    };
    const rest = after('done', 'mash-in');
    const heating = after('done', 'pull-1');
    const boiling = after('begun', 'boil-1');
    const back = after('done', 'return-1');
    const at = (s: DaySession) => s.lastMin + 3;
    return [
      await compare(
        { what: 'landing, first rest', run: () => forecastLanding(rest, at(rest)) },
        baseline,
      ),
      await compare(
        { what: 'landing, pull heating', run: () => forecastLanding(heating, at(heating)) },
        baseline,
      ),
      await compare(
        { what: 'landing, pull boiling', run: () => forecastLanding(boiling, at(boiling)) },
        baseline,
      ),
      await compare(
        { what: 'rest of the day, second rest', run: () => forecastDay(back, at(back)) },
        baseline,
      ),
      await compare(
        {
          what: 'repairs after a miss',
          run: () => repairsFor(back, at(back), 72),
        },
        baseline,
        { note: '80 particles each' },
      ),
    ];
  },
};
