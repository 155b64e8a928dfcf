import type { Kit, Move, Say, VesselCurve } from '@ladlework/brewhouse';
import { foldBrew, type LogEvent } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import type { DayAhead, Plan } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { heightOf, sheetOf } from './geometry.ts';
import { type RunningDay, runningScore, runningTrace } from './running.ts';

const say: Say = {
  temp: (c) => `${c.toFixed(0)} °C`,
  volume: (l) => `${l.toFixed(0)} L`,
  mass: (kg) => `${kg} kg`,
  minutes: (m) => `${m} min`,
  ratio: (r) => `${r}`,
};

const KIT = {
  id: 'k',
  name: 'Kit',
  altitudeM: 0,
  airC: 18,
  vessels: [
    { id: 'tun', name: 'Tun', role: 'mash-tun', brimL: 200, deadL: 2, diameterM: 0.6, lid: true },
    { id: 'pot', name: 'Pot', role: 'pot', brimL: 50, deadL: 0, diameterM: 0.4, lid: true },
  ],
  burners: [],
  routes: [],
  hands: [{ id: 'B', name: 'Maren' }],
} as unknown as Kit;

const BOIL: Move = {
  id: 'boil-1',
  kind: 'boil',
  vessel: 'pot',
  burner: 'ring',
  minutes: 15,
  power: 0.5,
  hands: ['B'],
};
const PULL: Move = {
  id: 'pull-1',
  kind: 'pull',
  from: 'tun',
  to: 'pot',
  route: 'bucket',
  litres: 40,
  thickness: 'thick',
  hands: ['B'],
};
const RETURN: Move = {
  id: 'return-1',
  kind: 'return',
  from: 'pot',
  to: 'tun',
  route: 'bucket',
  stopAtC: 71,
  hands: ['B'],
};

const curve = (
  vessel: string,
  points: readonly (readonly [number, number, number])[],
): VesselCurve => ({
  vessel,
  timeMin: points.map((p) => p[0]),
  tempC: points.map((p) => p[1]),
  volumeL: points.map((p) => p[2]),
});

const traced = (move: Move, startMin: number, endMin: number, fromC: number, toC: number) => ({
  id: move.id,
  kind: move.kind,
  vessels: ['tun', 'pot'],
  hands: move.hands,
  startMin,
  endMin,
  fromC,
  toC,
  evaporatedKg: 0,
});

/** Pulled at minute 60, boiling since 95; it is 100, the return is likely at 118. */
function day(): RunningDay {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
    tablet.wait(60).write('move-begun', { moveId: 'pull-1' }),
    tablet.wait(8).write('move-done', { moveId: 'pull-1' }),
    tablet.wait(27).write('move-begun', { moveId: 'boil-1' }),
  ];
  const trace = {
    moves: [traced(BOIL, 100, 112, 99, 99), traced(RETURN, 118, 126, 59, 71)],
    curves: [
      curve('tun', [
        [100, 60, 100],
        [118, 59, 100],
        [126, 71, 138],
      ]),
      curve('pot', [
        [100, 99, 38],
        [118, 98, 38],
        [126, 98, 0],
      ]),
    ],
  };
  return {
    kit: KIT,
    plan: {
      moves: [PULL, BOIL, RETURN].map((move) => ({ move })),
      trace: {
        moves: [],
        curves: [
          curve('tun', [
            [0, 62, 140],
            [120, 60, 140],
          ]),
        ],
      },
      curveBands: [],
    } as unknown as Plan,
    brew: foldBrew(events, 'b1'),
    history: [
      curve('tun', [
        [50, 62, 140],
        [60, 61.5, 140],
        [68, 61, 100],
        [100, 60, 100],
      ]),
      curve('pot', [
        [60, 20, 0],
        [68, 60, 39],
        [95, 99, 38],
        [100, 99, 38],
      ]),
    ],
    ahead: { trace, curveBands: [] } as unknown as DayAhead,
    mashBands: [],
    nowMin: 100,
  };
}

describe('a running day as one trace', () => {
  const trace = runningTrace(day());
  const move = (id: string) => trace.moves.find((m) => m.id === id);

  it('has what is over where it happened, with what stood there then', () => {
    expect(move('pull-1')).toMatchObject({ startMin: 60, endMin: 68, toC: 60 });
    expect(move('pull-1')?.transfer?.sourceC).toBeCloseTo(61.5, 9);
  });

  it('has what is under way from its tap to its likely end', () => {
    expect(move('boil-1')).toMatchObject({ startMin: 95, endMin: 112, fromC: 99 });
  });

  it('has what is to come where it is likely', () => {
    expect(move('return-1')).toMatchObject({ startMin: 118, endMin: 126, toC: 71 });
  });

  it('joins the curves at now, in the order of time', () => {
    for (const { timeMin } of trace.curves)
      expect([...timeMin].sort((a, b) => a - b)).toEqual(timeMin);
    expect(trace.curves.find((c) => c.vessel === 'tun')?.timeMin).toEqual([
      50, 60, 68, 100, 100, 118, 126,
    ]);
  });

  it('draws the plan behind, within the same scale', () => {
    const model = runningScore(day(), say);
    const tun = model.staves.find((s) => s.vessel === 'tun');
    expect(tun?.behind?.[0]?.tempC[0]).toBe(62);
    expect(tun?.highC).toBeGreaterThan(71);
    const layout = { staveHeight: 80, staveGap: 16, namesAbove: false };
    const sheet = sheetOf(model, {
      ...layout,
      leftPx: 100,
      pxPerMin: 4,
      fontPx: 14,
      startClockMin: 360,
    });
    expect(sheet.height).toBe(heightOf(model, layout));
    expect(sheet.staves.find((s) => s.vessel === 'tun')?.behind[0]?.d).toMatch(/^M/);
  });
});
