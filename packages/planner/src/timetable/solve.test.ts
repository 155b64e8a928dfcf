/** Days small enough to solve by hand. Minutes after day start. */
import { describe, expect, it } from 'vitest';
import type { TimetableProblem } from './problem.ts';
import { solve } from './solve.ts';
import { after, dayOf, faultsOf } from './testing.ts';

const clock = (minute: number) =>
  `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`;
const solved = (day: TimetableProblem) => {
  const s = solve(day, clock);
  expect(s.proven).toBe('optimal');
  expect(faultsOf(day, s.placed)).toEqual([]);
  return s;
};
const in1 = (vessel: string, content: string) => [{ vessel, content }];
const busy = (...anyOf: string[]) => [{ kind: 'busy' as const, anyOf, count: 1 }];
const startOf = (s: ReturnType<typeof solved>, id: string) =>
  s.placed.find((p) => p.id === id)?.startMin;

describe('a chain', () => {
  it('ends after the sum of its minutes and lags', () => {
    const day = dayOf(
      [
        { id: 'heat', min: 40 },
        { id: 'mash in', min: 25 },
        { id: 'rest', min: 30 },
      ],
      [after('heat', 'mash in', undefined, 5), after('mash in', 'rest')],
    );
    expect(solved(day).finishMin).toBe(40 + 5 + 25 + 30);
  });
});

describe('one kettle', () => {
  // Strike 30 min, then the kettle heats sparge liquor 40 min; the pull wants it after a rest of 20.
  const kettle = (stretchMin: number) =>
    dayOf(
      [
        { id: 'strike', min: 30, vessels: in1('kettle', 'strike') },
        { id: 'rest', min: 20, stretchMin },
        { id: 'pull', min: 50, vessels: in1('kettle', 'pull') },
        { id: 'sparge', min: 40, vessels: in1('kettle', 'sparge') },
      ],
      [after('strike', 'rest', 0), after('rest', 'pull', 0), after('strike', 'sparge')],
    );

  it('heats sparge liquor before the pull when the rest may stretch to it', () => {
    // 30 + 40 + 50 either way; stretched, the kettle is never idle.
    expect(solved(kettle(20)).finishMin).toBe(120);
  });

  it('heats it after the pull when the rest may not', () => {
    expect(solved(kettle(0)).finishMin).toBe(30 + 20 + 50 + 40);
  });
});

describe('content that stands', () => {
  it('keeps a vessel for itself between its activities', () => {
    const day = dayOf(
      [
        { id: 'park', min: 10, vessels: in1('tank', 'liquor') },
        { id: 'run off', min: 60 },
        { id: 'sparge', min: 30, vessels: in1('tank', 'liquor') },
        { id: 'sanitise', min: 20, vessels: in1('tank', 'sanitiser') },
      ],
      [after('park', 'run off'), after('run off', 'sparge')],
      { holds: [{ vessel: 'tank', content: 'liquor', from: 'park', to: 'sparge' }] },
    );
    const s = solved(day);
    // The tank has no 20 min to spare inside the 100, so they come before or after.
    expect(s.finishMin).toBe(120);
  });

  it('lets two brews into one tank one after the other', () => {
    const day = dayOf([
      { id: 'knock out 1', min: 40, vessels: in1('tank', 'beer'), tools: ['cooler'] },
      { id: 'knock out 2', min: 40, vessels: in1('tank', 'beer'), tools: ['cooler'] },
    ]);
    expect(solved(day).finishMin).toBe(80);
  });
});

describe('hands', () => {
  it('two things at once take two people', () => {
    const work = [
      { id: 'stir', min: 30, hands: busy('B', 'H') },
      { id: 'clean', min: 20, hands: busy('B', 'H') },
    ];
    const people = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper' },
    ];
    expect(solved(dayOf(work, [], { people })).finishMin).toBe(30);
    expect(
      solved(
        dayOf([
          { ...(work[0] as { id: string; min: number }), hands: busy('B') },
          { ...(work[1] as { id: string; min: number }), hands: busy('B') },
        ]),
      ).finishMin,
    ).toBe(50);
  });

  it('gives the helper what falls before noon', () => {
    const people = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper', untilMin: 25 },
    ];
    const day = dayOf(
      [
        { id: 'stir', min: 20, hands: busy('B', 'H') },
        { id: 'rinse', min: 20, hands: busy('B', 'H') },
        { id: 'grain out', min: 30, hands: busy('B', 'H') },
      ],
      [after('stir', 'grain out')],
      { people },
    );
    const s = solved(day);
    expect(s.finishMin).toBe(50);
    expect(s.placed.find((p) => p.id === 'grain out')?.hands).toEqual([{ id: 'B', kind: 'busy' }]);
  });

  it('lets one person stand by two fires but not from a break', () => {
    const atHand = [{ kind: 'at-hand' as const, anyOf: ['B'], count: 1 }];
    const fires = [
      { id: 'boil', min: 60, hands: atHand },
      { id: 'heat', min: 30, hands: atHand },
    ];
    expect(solved(dayOf(fires)).finishMin).toBe(60);
    const lunch = {
      id: 'lunch',
      min: 20,
      hands: [{ kind: 'away' as const, anyOf: ['B'], count: 1 }],
      latestEndMin: 70,
    };
    // 20 of lunch first, then 60 of boil; there is no gap in the boil and no time after it.
    expect(solved(dayOf([...fires, lunch])).finishMin).toBe(80);
  });

  it('works round a delivery', () => {
    const day = dayOf([
      { id: 'delivery', min: 20, fixedStartMin: 30, hands: busy('B') },
      { id: 'carry', min: 40, hands: busy('B') },
    ]);
    const s = solved(day);
    // 40 min do not fit before 30.
    expect(startOf(s, 'carry')).toBe(50);
    expect(s.finishMin).toBe(90);
  });

  it('keeps the finish first and then lets the helper go early', () => {
    const people = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper' },
    ];
    const day = dayOf(
      [
        { id: 'lift 1', min: 10, hands: [{ kind: 'busy', anyOf: ['B', 'H'], count: 2 }] },
        { id: 'boil', min: 100 },
        { id: 'lift 2', min: 10, hands: [{ kind: 'busy', anyOf: ['B', 'H'], count: 2 }] },
      ],
      [after('boil', 'lift 2')],
      { people },
    );
    const s = solved(day);
    expect(s.finishMin).toBe(110);
    // The first lift can wait until just before the second.
    expect(startOf(s, 'lift 1')).toBe(90);
    expect(s.levels.map((l) => l.value)).toEqual([110, 20, 20]);
  });
});

describe('liquor standing hot', () => {
  it('is parked as late as finish and hands allow', () => {
    const day = dayOf(
      [
        { id: 'park', min: 10 },
        { id: 'run off', min: 60 },
        { id: 'sparge', min: 30 },
      ],
      [after('run off', 'sparge'), after('park', 'sparge')],
      {
        standings: [
          {
            from: { activity: 'park', edge: 'end' },
            to: { activity: 'sparge', edge: 'start' },
            heatWh: Array.from({ length: 90 }, (_, minute) => 20 * minute),
          },
        ],
      },
    );
    const s = solved(day);
    expect(startOf(s, 'park')).toBe(50);
    expect(s.levels.at(-1)).toMatchObject({ unit: 'Wh', value: 0, proven: true });
  });

  it('waits where it loses least, when one of two must wait', () => {
    // One pump parks both before the run-off and 10 min before each sparge; the second can only
    // follow the first, so one of the two stands 10 min longer.
    const standing = (k: number, whPerMin: number) => ({
      from: { activity: `park ${k}`, edge: 'end' as const },
      to: { activity: 'sparge', edge: 'start' as const },
      heatWh: Array.from({ length: 90 }, (_, minute) => whPerMin * minute),
    });
    const day = (first: number, second: number) =>
      dayOf(
        [
          { id: 'park 1', min: 10, tools: ['pump'] },
          { id: 'park 2', min: 10, tools: ['pump'] },
          { id: 'run off', min: 60 },
          { id: 'sparge', min: 30 },
        ],
        [after('run off', 'sparge'), after('park 1', 'sparge'), after('park 2', 'sparge')],
        { standings: [standing(1, first), standing(2, second)] },
      );
    const bare = solved(day(9, 4));
    expect([startOf(bare, 'park 1'), startOf(bare, 'park 2')]).toEqual([50, 40]);
    expect(bare.levels.at(-1)?.value).toBe(40);
    const turned = solved(day(4, 9));
    expect([startOf(turned, 'park 1'), startOf(turned, 'park 2')]).toEqual([40, 50]);
  });
});

describe('slack', () => {
  it('is what a start may slip before the finish does', () => {
    const s = solved(
      dayOf(
        [
          { id: 'boil', min: 70 },
          { id: 'sanitise', min: 20 },
          { id: 'knock out', min: 40 },
        ],
        [after('boil', 'knock out'), after('sanitise', 'knock out')],
      ),
    );
    expect(s.placed.map((p) => [p.id, p.slackMin])).toEqual([
      ['boil', 0],
      ['sanitise', 50],
      ['knock out', 0],
    ]);
  });
});

describe('a budget that ends', () => {
  it('gives the best found with its gap', () => {
    // Twelve jobs on two people and a hose: the first schedule is there at once, the proof is not.
    const jobs = Array.from({ length: 14 }, (_, k) => ({
      id: `job ${k}`,
      min: 7 + ((k * 5) % 11),
      hands: busy('B', 'H'),
    }));
    const people = [
      { id: 'B', name: 'Brewer' },
      { id: 'H', name: 'Helper' },
    ];
    const day = dayOf(jobs, [], { people });
    const s = solve(day, clock, { nodes: 400 });
    expect(s.proven).toBe('bounded');
    expect(faultsOf(day, s.placed)).toEqual([]);
    // All hands busy to the end would be half the sum of the work.
    const half = Math.ceil(jobs.reduce((sum, j) => sum + j.min, 0) / 2);
    expect(s.gapMin).toBe(s.finishMin - half);
    expect(s.gapMin).toBeGreaterThan(0);
  });
});
