/** Proofs that a day cannot be done: the limits named are enough, and each of them is needed. */
import { describe, expect, it } from 'vitest';
import { compile } from './compile.ts';
import type { TimetableProblem } from './problem.ts';
import { search } from './search.ts';
import { smallDay } from './small-days-testing.ts';
import { solve } from './solve.ts';
import { after, dayOf } from './testing.ts';

const clock = (minute: number) =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
const clashesOf = (day: TimetableProblem) => {
  const s = solve(day, clock);
  expect(s.proven).toBe('infeasible');
  return s.clash;
};
const works = (day: TimetableProblem) => search(compile(day)).state === 'solved';

describe('one kettle too few', () => {
  const activities = [
    { id: 'strike', name: 'Strike liquor', min: 30, vessels: [{ vessel: 'kettle', content: 's' }] },
    { id: 'rest', name: 'Rest at 62 °C', min: 20, stretchMin: 10 },
    { id: 'pull', name: 'Pull 1', min: 50, vessels: [{ vessel: 'kettle', content: 'p' }] },
    { id: 'sparge', name: 'Sparge liquor', min: 40, vessels: [{ vessel: 'kettle', content: 'q' }] },
    { id: 'run off', name: 'Run off', min: 90 },
  ];
  const lags = [
    after('strike', 'rest', 0),
    after('rest', 'pull', 0),
    after('pull', 'run off', 20),
    after('strike', 'sparge'),
    after('sparge', 'run off'),
  ];
  const day = dayOf(activities, lags, { names: { kettle: 'Kettle' } });

  it('names the rest, the wait and what the kettle is wanted for, in plain words', () => {
    const { clashes, minimal } = clashesOf(day);
    expect(minimal).toBe(true);
    expect(clashes.map((c) => c.text)).toEqual(
      [
        'Kettle is wanted for "Pull 1".',
        'Kettle is wanted for "Sparge liquor".',
        '"Pull 1" starts at most 0 min after the end of "Rest at 62 °C": it cools.',
        '"Run off" starts at most 20 min after the end of "Pull 1": it cools.',
        '"Rest at 62 °C" starts at most 0 min after the end of "Strike liquor": it cools.',
        'Rest at 62 °C lasts 30 min at most.',
      ].sort(
        (a, b) => clashes.findIndex((c) => c.text === a) - clashes.findIndex((c) => c.text === b),
      ),
    );
  });

  it('says truly which single change frees the day', () => {
    const { clashes } = clashesOf(day);
    expect(clashes.every((c) => c.freesAlone)).toBe(true);
    const stretched = activities.map((a) => (a.id === 'rest' ? { ...a, stretchMin: 20 } : a));
    expect(works(dayOf(stretched, lags))).toBe(true);
    const waiting = lags.map((l) =>
      l.to.activity === 'run off' && l.mostMin ? { ...l, mostMin: 40 } : l,
    );
    expect(works(dayOf(activities, waiting))).toBe(true);
    const another = activities.map((a) =>
      a.id === 'sparge' ? { ...a, vessels: [{ vessel: 'liquor tank', content: 'q' }] } : a,
    );
    expect(works(dayOf(another, lags))).toBe(true);
  });
});

describe('a helper who leaves at noon', () => {
  it('is named with the work that takes two', () => {
    const day = dayOf(
      [
        { id: 'mash', min: 300 },
        {
          id: 'lift',
          name: 'Carry the pull',
          min: 20,
          hands: [{ kind: 'busy', anyOf: ['B', 'H'], count: 2 }],
        },
      ],
      [after('mash', 'lift')],
      {
        people: [
          { id: 'B', name: 'Brewer' },
          { id: 'H', name: 'Helper', untilMin: 310 },
        ],
      },
    );
    const { clashes } = clashesOf(day);
    expect(clashes.map((c) => c.text)).toEqual([
      'Helper leaves at 05:10.',
      '"Carry the pull" takes 2 of Brewer or Helper.',
    ]);
    expect(clashes.every((c) => c.freesAlone)).toBe(true);
  });
});

describe('a day that must end too early', () => {
  it('says when it can end', () => {
    const day = dayOf(
      [
        { id: 'a', min: 50 },
        { id: 'b', min: 60 },
      ],
      [after('a', 'b')],
      { finishByMin: 100 },
    );
    expect(clashesOf(day).clashes.map((c) => c.text)).toEqual([
      'The day is to end by 01:40. It cannot end before 01:50.',
    ]);
  });
});

describe('two deliveries at one hour', () => {
  it('are a clash of hands', () => {
    const at = {
      min: 20,
      hands: [{ kind: 'busy' as const, anyOf: ['B'], count: 1 }],
      fixedStartMin: 60,
    };
    const { clashes } = clashesOf(
      dayOf([
        { id: 'malt', ...at },
        { id: 'gas', ...at },
      ]),
    );
    expect(new Set(clashes.map((c) => c.code))).toEqual(
      new Set(['event', 'one-pair-of-hands', 'needs-hands']),
    );
    expect(clashes.every((c) => c.freesAlone)).toBe(true);
  });
});

describe('random days that cannot be done', () => {
  it('are freed by exactly the limits that say so', () => {
    let seen = 0;
    let freed = 0;
    for (let seed = 1; seed <= 250; seed++) {
      const day = smallDay(seed, 3 + (seed % 6));
      if (search(compile(day)).state !== 'infeasible') continue;
      seen++;
      const { clashes, minimal } = clashesOf(day);
      expect(minimal, `day ${seed}`).toBe(true);
      expect(clashes.length, `day ${seed}`).toBeGreaterThan(0);
      if (clashes.some((c) => c.freesAlone)) freed++;
    }
    expect(seen).toBeGreaterThan(10);
    expect(freed / seen).toBeGreaterThan(0.7);
  });
});
