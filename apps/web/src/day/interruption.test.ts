import type { LogEvent } from '@ladlework/log';
import { describe, expect, it } from 'vitest';
import { awayBetween, LOST_AFTER_MS, meanwhile } from './interruption.ts';

describe('an interruption', () => {
  it('is one from three minutes on, and none on the first look', () => {
    expect(awayBetween(1000, 1000 + LOST_AFTER_MS - 1)).toBeUndefined();
    expect(awayBetween(1000, 1000 + LOST_AFTER_MS)).toEqual({
      sinceMs: 1000,
      backMs: 1000 + LOST_AFTER_MS,
    });
    expect(awayBetween(undefined, 1e12)).toBeUndefined();
  });

  it('is none when the clock was set back meanwhile', () => {
    expect(awayBetween(5e9, 1000)).toBeUndefined();
  });
});

describe('what happened meanwhile', () => {
  const event = (stream: string, device: string, readAtMs: number) =>
    ({ stream, device, readAtMs }) as unknown as LogEvent;

  it('is what other devices wrote of this brew in that time', () => {
    const events = [
      event('brew:1', 'own', 50),
      event('brew:1', 'phone', 50),
      event('brew:2', 'phone', 50),
      event('brew:1', 'phone', 9),
      event('brew:1', 'phone', 101),
      event('brew:1', 'wall', 100),
    ];
    expect(meanwhile(events, 'brew:1', 'own', { sinceMs: 10, backMs: 100 })).toEqual([
      events[1],
      events[5],
    ]);
  });
});
