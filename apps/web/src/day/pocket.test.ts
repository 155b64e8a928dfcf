import { foldBrew, type LogEvent } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import { describe, expect, it } from 'vitest';
import { partOf } from './pocket.ts';
import { runOf } from './run.ts';

const TWO_HANDS = {
  ...ONE_PULL,
  moves: ONE_PULL.moves.map((m) => (m.kind === 'boil' ? { ...m, hands: ['H'] } : m)),
};

function day(...taps: ['begun' | 'done', string][]) {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: TWO_HANDS }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
  ];
  for (const [stage, moveId] of taps)
    events.push(tablet.wait(5).write(stage === 'begun' ? 'move-begun' : 'move-done', { moveId }));
  return runOf(foldBrew(events, 'b1'), tablet.nowMs);
}

describe('one person of the day', () => {
  it('sees the next move of these hands, not the next of the day', () => {
    const run = day();
    expect(partOf(run, 'H').focus?.move.id).toBe('boil-1');
    expect(partOf(run, 'B').focus?.move.id).toBe('mash-in');
    expect(partOf(run, 'B').next?.move.id).toBe('pull-1');
  });

  it('sees what the hands are in before what comes', () => {
    const run = day(['done', 'mash-in'], ['done', 'pull-1'], ['begun', 'boil-1']);
    expect(partOf(run, 'H').focus?.state).toBe('underway');
    expect(partOf(run, 'H').next).toBeUndefined();
    expect(partOf(run, 'B').focus?.move.id).toBe('return-1');
  });

  it('sees nothing when nothing more is its own', () => {
    expect(partOf(day(['done', 'boil-1']), 'H')).toEqual({ focus: undefined, next: undefined });
  });
});
