import { foldBrew, type LogEvent } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import type { Questioned } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { oddDone, openQuestion } from './open-question.ts';

function doubtedDay() {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
  ];
  const far = tablet.wait(40).temp(26);
  events.push(far);
  const questioned: Questioned[] = [
    {
      entry: {
        kind: 'reading',
        id: far.id,
        reading: { vessel: 'tun', what: 'temp', value: 26, atMin: 40, sd: 1 },
      },
      expected: { low: 61, likely: 62, high: 63 },
      text: '',
    },
  ];
  return { tablet, events, far, ask: () => openQuestion(foldBrew(events, 'b1'), questioned) };
}

describe('a reading that does not fit', () => {
  it('is asked about with what was expected', () => {
    const { ask, far } = doubtedDay();
    expect(ask()).toMatchObject({ reading: { eventId: far.id }, expected: { likely: 62 } });
  });

  it('is not asked about once it was struck out', () => {
    const { tablet, events, far, ask } = doubtedDay();
    events.push(tablet.write('withdrawn', { reason: 'read wrongly' }, { corrects: far.id }));
    expect(ask()).toBeUndefined();
  });

  it('is not asked about once the same box was read again', () => {
    const { tablet, events, ask } = doubtedDay();
    events.push(tablet.wait(2).temp(80, { vessel: 'pot' }));
    expect(ask()).toBeDefined();
    events.push(tablet.wait(2).temp(62.1));
    expect(ask()).toBeUndefined();
  });
});

describe('a heat-up tapped at an odd time', () => {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
    tablet.wait(40).write('move-done', { moveId: 'boil-1' }),
  ];
  const questioned: Questioned[] = [
    {
      entry: { kind: 'done', moveId: 'boil-1', atMin: 40 },
      expected: { low: 88, likely: 95, high: 104 },
      text: '',
    },
  ];
  const ask = (nowMin: number) => oddDone(foldBrew(events, 'b1'), questioned, nowMin);

  it('asks for its vessel to be read, for a while', () => {
    expect(ask(45)).toMatchObject({ vessel: 'pot', expected: { low: 88 } });
    expect(ask(80)).toBeUndefined();
  });

  it('asks no more once it was read', () => {
    events.push(tablet.wait(3).temp(97, { vessel: 'pot' }));
    expect(ask(45)).toBeUndefined();
  });
});
