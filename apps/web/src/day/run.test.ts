import type { BrewState, MoveState, SummaryMove } from '@ladlework/log';
import { describe, expect, it } from 'vitest';
import { alarmsOf, follows, runOf } from './run.ts';

const MIN = 60_000;
const START = 1_800_000_000_000;
const exactly = (x: number) => ({ low: x, likely: x, high: x });

const move = (id: string, kind: string, start: number, end: number): SummaryMove => ({
  id,
  kind,
  vessel: 'tun',
  text: id,
  hands: [],
  startMin: exactly(start),
  endMin: exactly(end),
  fromC: exactly(62),
  toC: exactly(62),
  volumeL: 100,
});

const PLAN = [
  move('mash-in', 'mash-in', 0, 10),
  move('rest', 'rest', 10, 30),
  move('rinse', 'rinse', 12, 14),
  move('pull', 'pull', 30, 36),
  move('heat', 'heat', 36, 55),
  move('rest-on', 'rest', 36, 50),
  move('return', 'return', 55, 62),
];

type Marks = Record<string, [begunMin?: number, doneMin?: number]>;

function brew(log: Marks): BrewState {
  const moves = PLAN.map(({ id }): MoveState => {
    const [begun, done] = log[id] ?? [];
    return {
      moveId: id,
      planned: true,
      ...(begun !== undefined && { begunAtMs: START + begun * MIN }),
      ...(done !== undefined && { doneAtMs: START + done * MIN }),
      begun: [],
      done: [],
      ladles: 0,
      ladleMarks: [],
    };
  });
  return {
    startedAtMs: START,
    planSummary: {
      moves: PLAN,
      returns: [],
      strike: { litres: 1, tempC: exactly(70) },
      mashEndMin: exactly(62),
      addedMin: exactly(10),
    },
    moves,
  } as unknown as BrewState;
}

const at = (min: number) => START + min * MIN;

describe('the move on top of the screen', () => {
  it('is the first of the plan before anything is begun', () => {
    expect(runOf(brew({}), at(0)).focus?.move.id).toBe('mash-in');
  });

  it('is the open move whose time has come beside a rest, and the rest before and after it', () => {
    const resting: Marks = { 'mash-in': [0, 13], rest: [13] };
    expect(runOf(brew(resting), at(14)).focus?.move.id).toBe('rest');
    expect(runOf(brew(resting), at(15)).focus?.move.id).toBe('rinse');
    const rinsed = runOf(brew({ ...resting, rinse: [15, 17] }), at(17));
    expect(rinsed.focus?.move.id).toBe('rest');
    expect(rinsed.next?.move.id).toBe('pull');
  });

  it('is never what follows something that still goes on', () => {
    const before: Marks = { 'mash-in': [0, 10], rest: [10, 30], rinse: [12, 14], pull: [30, 36] };
    const heating = brew({ ...before, heat: [36], 'rest-on': [36, 50] });
    const slow = new Map([['heat', at(60)]]);
    expect(runOf(heating, at(57), slow).focus?.move.id).toBe('heat');
  });

  it('is what somebody carries, whatever clock runs out beside it', () => {
    const run = runOf(brew({ 'mash-in': [0, 10], rest: [10, 30], pull: [30], heat: [20] }), at(60));
    expect(run.focus?.move.id).toBe('pull');
  });

  it('is the one past its time, and says by how much', () => {
    const run = runOf(brew({ 'mash-in': [0, 10], rest: [12], rinse: [14, 16] }), at(36));
    expect(run.focus?.move.id).toBe('rest');
    expect(run.overdueMin).toBeCloseTo(4, 9);
    expect(run.next?.move.id).toBe('pull');
  });

  it('counts a move that should have begun as overdue', () => {
    expect(runOf(brew({}), at(4)).overdueMin).toBeCloseTo(4, 9);
  });

  it('is finished when every move is done', () => {
    const all = Object.fromEntries(PLAN.map((m) => [m.id, [0, 1] as [number, number]]));
    expect(runOf(brew(all), at(70)).finished).toBe(true);
  });
});

describe('what begins by itself', () => {
  it('is the heat and the rest that follow a pull, not the return', () => {
    const run = runOf(brew({ 'mash-in': [0, 10], rest: [10, 30], pull: [30] }), at(38));
    const pull = run.moves.find((m) => m.move.id === 'pull');
    if (pull === undefined) throw new Error('no pull in the plan');
    expect(follows(run, pull).map((m) => m.move.id)).toEqual(['heat', 'rest-on']);
  });
});

describe('alarms', () => {
  const resting = brew({ 'mash-in': [0, 10], rest: [10] });

  it('come two minutes before and at the end, until acknowledged', () => {
    expect(alarmsOf(runOf(resting, at(27)), at(27), new Set())).toEqual([]);
    const soon = alarmsOf(runOf(resting, at(28)), at(28), new Set());
    expect(soon.map((a) => a.stage)).toEqual(['soon']);
    const now = alarmsOf(runOf(resting, at(33)), at(33), new Set(soon.map((a) => a.key)));
    expect(now.map((a) => a.stage)).toEqual(['now']);
    expect(alarmsOf(runOf(resting, at(40)), at(40), new Set(now.map((a) => a.key)))).toEqual([]);
  });

  it('do not ring for a rest that nothing follows', () => {
    const beside = brew({ 'mash-in': [0, 10], rest: [10, 30], pull: [30, 36], 'rest-on': [36] });
    expect(alarmsOf(runOf(beside, at(52)), at(52), new Set())).toEqual([]);
  });
});
