import { simulate } from '@ladlework/brewhouse';
import { normal, seededRandom } from '@ladlework/numerics';
import {
  applyEntry,
  brewDay,
  type DayEntry,
  drawsFor,
  forecastLanding,
  minuteOf,
  openDay,
  openingSituation,
  type PlanDocument,
} from '@ladlework/planner';
import { dayOptions } from '../packages/planner/src/day.ts';
import {
  type HiddenDay,
  hiddenDay,
  movesFor,
  STOVE,
  TWO_PULLS,
  tapsWithReadings,
  unread,
  unreadLanding,
} from '../packages/planner/src/live-testing.ts';
import type { Bench, Ratio } from './support/measure.ts';

const DAYS = 500;
const DRAWS = 200;
const READ_AFTER = ['mash-in', 'pull-1', 'rest-on-1', 'boil-up-1', 'boil-1'];

/** Hidden days whose landing the 80 % band held, with readings and without. */
function cover(
  document: PlanDocument,
  by: 'hand' | 'probe',
): { heldPct: number; widthK: number; ms: number } {
  const moves = movesFor(document);
  const open = openDay(document, moves, { mash: 'off', draws: DRAWS, seed: 3 });
  const needL = open.pulls[0]?.needL ?? 0;
  const portionL = document.kit.routes[0]?.portionL ?? 1;
  const random = seededRandom(5);
  let held = 0;
  let widthK = 0;
  const start = performance.now();
  for (const truth of drawsFor(document.kit, DAYS, 4711)) {
    const hidden = hiddenDay(document, unread(moves, 'return-1'), truth);
    const landedC = unreadLanding(hidden.trace, 'return-1', needL, portionL);
    const until = ['done', 'boil-1'] as const;
    const noise = () => normal(random);
    const entries =
      by === 'hand'
        ? tapsWithReadings(hidden, truth, until, READ_AFTER, noise)
        : withProbe(hidden, tapsWithReadings(hidden, truth, until, [], noise), noise);
    const day = entries.reduce(applyEntry, open);
    const band = forecastLanding(day, day.lastMin)?.now;
    if (!band) throw new Error('the day has no return left to forecast');
    if (landedC >= band.low && landedC <= band.high) held++;
    widthK += (band.high - band.low) / DAYS;
  }
  return { heldPct: (100 * held) / DAYS, widthK, ms: (performance.now() - start) / DAYS };
}

/** One standard error of the invented probe [K]: what it is off is drawn once a day. */
const PROBE_SD_K = 0.7;

/** Taps, and a tun probe that nobody reads beside, heard each five minutes. */
function withProbe(hidden: HiddenDay, taps: readonly DayEntry[], noise: () => number): DayEntry[] {
  const off = PROBE_SD_K * noise();
  const end = Math.max(...taps.map(minuteOf));
  const heard = Array.from({ length: Math.floor(end / 5) }, (_, n): DayEntry => {
    const atMin = 5 * (n + 1);
    const value = hidden.tempC('tun', atMin) + off + 0.1 * noise();
    const probe = { id: 'tun-probe', sd: PROBE_SD_K };
    return {
      kind: 'reading',
      reading: { vessel: 'tun', what: 'temp', value, atMin, sd: 0.3, probe },
    };
  });
  return [...taps, ...heard].sort((a, b) => minuteOf(a) - minuteOf(b));
}

function row(name: string, document: PlanDocument, by: 'hand' | 'probe'): Ratio {
  const { heldPct, widthK, ms } = cover(document, by);
  const day = brewDay(document);
  const moves = movesFor(document);
  const start = performance.now();
  for (let i = 0; i < DRAWS; i++) simulate(day.kit, openingSituation(day), moves, dayOptions(day));
  return {
    what: `${name}: one day with its readings, ${DRAWS} particles`,
    ms,
    baseline: `${DRAWS} whole days, nominal`,
    baselineMs: performance.now() - start,
    note: `80 % band held ${heldPct.toFixed(1)} % of ${DAYS} hidden days, ${widthK.toFixed(2)} K wide`,
  };
}

export const bench: Bench = {
  about:
    'How often the landing forecast at the end of the boil holds what then lands on a hidden kit: 80 ± 4 % is the target.',
  run: async () => [
    row('two vessels', TWO_PULLS, 'hand'),
    row('stove', STOVE, 'hand'),
    row('two vessels, a biased tun probe instead', TWO_PULLS, 'probe'),
    row('stove, a biased tun probe instead', STOVE, 'probe'),
  ],
};
