import { foldBrew, type LogEvent, type PlanSummary } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import { describe, expect, it } from 'vitest';
import { iodineAsk } from './iodine.ts';
import { runOf } from './run.ts';

const PROMPTS = [{ rest: 2, atMin: 140, positiveChance: 0.05 }];
const LENGTH_MIN = 20;
const exactly = (x: number) => ({ low: x, likely: x, high: x });
const REST: PlanSummary['moves'][number] = {
  id: 'rest-2',
  kind: 'rest',
  vessel: 'tun',
  text: 'Rest',
  hands: [],
  startMin: exactly(122),
  endMin: exactly(122 + LENGTH_MIN),
  fromC: exactly(71),
  toC: exactly(70.6),
  volumeL: 130,
};
const SUMMARY = { ...ONE_PULL, moves: [...ONE_PULL.moves, REST] };

/** The one-pull day with its second rest begun at minute 122. */
function resting() {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: SUMMARY }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
  ];
  tablet.wait(122);
  events.push(tablet.write('move-begun', { moveId: 'rest-2' }));
  const ask = () => {
    const brew = foldBrew(events, 'b1');
    return iodineAsk(runOf(brew, tablet.nowMs), brew, PROMPTS, tablet.nowMs);
  };
  const test = (value: 0 | 1) =>
    events.push(
      tablet.write('reading', {
        vessel: 'tun',
        what: 'iodine',
        value,
        unit: 'iodine',
        text: value === 0 ? 'negative' : 'positive',
        places: 1,
        settled: true,
      }),
    );
  return { tablet, events, ask, test };
}

describe('the iodine test on the card', () => {
  it('is asked for toward the end of the rest, with the chance of blue', () => {
    const { tablet, ask } = resting();
    tablet.wait(LENGTH_MIN - 6);
    expect(ask()).toBeUndefined();
    tablet.wait(2);
    expect(ask()).toMatchObject({ vessel: 'tun', due: true, chance: 0.05 });
  });

  it('is asked for until it was made, and not for ever', () => {
    const { tablet, ask, test } = resting();
    tablet.wait(LENGTH_MIN - 2);
    test(0);
    expect(ask()).toBeUndefined();
    const unanswered = resting();
    unanswered.tablet.wait(LENGTH_MIN + 20);
    expect(unanswered.ask()).toBeUndefined();
  });

  it('stays blue until a clear one, and is made again after five minutes', () => {
    const { tablet, ask, test } = resting();
    tablet.wait(LENGTH_MIN - 2);
    test(1);
    expect(ask()).toMatchObject({ due: false, chance: undefined, blue: { value: 1 } });
    tablet.wait(6);
    expect(ask()?.due).toBe(true);
    test(0);
    expect(ask()).toBeUndefined();
  });

  it('is no longer about this mash once something was carried', () => {
    const { tablet, events, ask, test } = resting();
    tablet.wait(LENGTH_MIN - 2);
    test(1);
    tablet.wait(1);
    events.push(tablet.write('move-begun', { moveId: 'return-1' }));
    expect(ask()).toBeUndefined();
  });
});
