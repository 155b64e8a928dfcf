import { foldBrew, type LogEvent } from '@ladlework/log';
import { DAY_START_MS, DOCUMENT, ONE_PULL, Tablet } from '@ladlework/log/testing';
import { describe, expect, it } from 'vitest';
import { landingOf, landingRead, missOf } from './miss.ts';

/** The one-pull day up to the end of its return at minute 122, wanted 71 °C. */
function returned() {
  const tablet = new Tablet('t1', 'B');
  const events: LogEvent[] = [
    tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL }),
    tablet.write('brew-started', { startAtMs: DAY_START_MS, clock: { utcOffsetMin: 60 } }),
  ];
  tablet.wait(110);
  events.push(tablet.write('move-begun', { moveId: 'return-1' }));
  events.push(tablet.wait(12).write('move-done', { moveId: 'return-1' }));
  const off = (doubted?: string) => {
    const state = foldBrew(events, 'b1');
    return missOf(state, landingOf(state, tablet.nowMs), doubted);
  };
  return { tablet, events, off, state: () => foldBrew(events, 'b1') };
}

describe('a landing', () => {
  it('is no miss before anybody has read it', () => {
    expect(returned().off()).toBeUndefined();
  });

  it('is no miss within a kelvin of the rest, and one beyond', () => {
    const { tablet, events, off } = returned();
    events.push(tablet.wait(3).temp(70.1));
    expect(off()).toBeUndefined();
    events.push(tablet.wait(1).temp(69.2));
    expect(off()).toBeCloseTo(-1.8, 9);
    events.push(tablet.wait(1).temp(72.4));
    expect(off()).toBeCloseTo(1.4, 9);
  });

  it('is not mended on the word of a reading that is still asked about', () => {
    const { tablet, events, off } = returned();
    const wrong = tablet.wait(3).temp(27);
    events.push(wrong);
    expect(off(wrong.id)).toBeUndefined();
    expect(off()).toBeCloseTo(-44, 9);
  });

  it('is answered once a way out was picked, until it is read again', () => {
    const { tablet, events, off } = returned();
    events.push(tablet.wait(3).temp(69));
    events.push(
      tablet.wait(1).write('miss-mended', { code: 'accept', text: 'Go on', moveId: 'return-1' }),
    );
    expect(off()).toBeUndefined();
    events.push(tablet.wait(4).temp(68.8));
    expect(off()).toBeCloseTo(-2.2, 9);
  });

  it('can no longer be mended when mash is carried again, or long after', () => {
    const { tablet, events, state } = returned();
    expect(landingOf(state(), tablet.nowMs)?.moveId).toBe('return-1');
    expect(landingOf(state(), tablet.nowMs + 40 * 60_000)).toBeUndefined();
    events.push(tablet.wait(2).write('move-begun', { moveId: 'pull-1' }));
    expect(landingOf(state(), tablet.nowMs)).toBeUndefined();
  });

  it('owns the readings of its vessel, during the return and after it', () => {
    const { tablet, state } = returned();
    expect(landingRead(state(), 'tun', 'return-1', tablet.nowMs)).toBe('return-1');
    expect(landingRead(state(), 'tun', undefined, tablet.nowMs)).toBe('return-1');
    expect(landingRead(state(), 'pot', 'return-1', tablet.nowMs)).toBeUndefined();
  });
});
