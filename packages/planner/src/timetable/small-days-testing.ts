/** Random small days for tests and benches. */
import { type Random, seededRandom } from '@ladlework/numerics';
import type { Activity, HandNeed, Lag, TimetableProblem } from './problem.ts';

/**
 * A random day.
 * @param seed the same seed gives the same day
 * @param count activities, 3-14
 */
export function smallDay(seed: number, count: number): TimetableProblem {
  const random: Random = seededRandom(seed);
  const int = (low: number, high: number) => low + Math.floor(random() * (high - low + 1));
  const chance = (p: number) => random() < p;
  const activities: Activity[] = [];
  const lags: Lag[] = [];
  const people = [
    { id: 'B', name: 'Brewer' },
    ...(chance(0.6)
      ? [{ id: 'H', name: 'Helper', ...(chance(0.5) ? { untilMin: int(10, 30) } : {}) }]
      : []),
  ];
  const letters = people.map((p) => p.id);
  for (let k = 0; k < count; k++) {
    const likely = int(1, 9);
    const hands: HandNeed[] = [];
    if (chance(0.7)) {
      const kind = chance(0.75) ? 'busy' : 'at-hand';
      const two = people.length > 1 && chance(0.2);
      hands.push({
        kind,
        anyOf: two || chance(0.7) ? letters : [letters[int(0, letters.length - 1)] as string],
        count: two ? 2 : 1,
      });
    }
    activities.push({
      id: `a${k}`,
      name: `Work ${k}`,
      minutes: { low: likely, likely, high: likely + 2 },
      ...(chance(0.25) ? { stretchMin: int(1, 6) } : {}),
      vessels: chance(0.6) ? [{ vessel: `v${int(0, 1)}`, content: `c${k}` }] : [],
      tools: chance(0.2) ? ['hose'] : [],
      hands,
      ...(chance(0.1) ? { earliestMin: int(0, 15) } : {}),
      ...(chance(0.08) ? { fixedStartMin: int(0, 20) } : {}),
      ...(chance(0.08) ? { latestEndMin: int(15, 50) } : {}),
    });
    if (k > 0 && chance(0.6)) {
      const from = int(0, k - 1);
      lags.push({
        from: { activity: `a${from}`, edge: chance(0.8) ? 'end' : 'start' },
        to: { activity: `a${k}`, edge: 'start' },
        leastMin: int(0, 3),
        ...(chance(0.35) ? { mostMin: int(3, 12), why: 'it cools' } : {}),
      });
    }
  }
  if (chance(0.3)) {
    activities.push({
      id: 'lunch',
      name: 'Lunch',
      minutes: { low: 4, likely: 4, high: 4 },
      vessels: [],
      tools: [],
      hands: [{ kind: 'away', anyOf: ['B'], count: 1 }],
      earliestMin: int(3, 8),
      latestEndMin: int(14, 30),
    });
  }
  return { activities, lags, holds: [], people, names: { v0: 'Tun', v1: 'Kettle' }, standings: [] };
}
