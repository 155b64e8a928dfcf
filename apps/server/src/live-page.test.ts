/** Pages that sleep, and the line they sleep on; without a socket, with the clock in hand. */
import type { LogEvent } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import type { EventStore, StoredEvent } from '@ladlework/store';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { LiveStream } from './live-stream.ts';

const lines: string[] = [];
const kept: StoredEvent[] = [];
const unasked = () => Promise.reject(new Error('not asked for here'));
/** As much of a store as the stream reads. */
const store: EventStore = {
  append: unasked,
  since: async (seq, options) => kept.filter((s) => s.seq > seq).slice(0, options?.limit),
  last: async () => kept.length,
  streams: unasked,
  backup: unasked,
  check: unasked,
  close: async () => {},
  readings: { keep: unasked, kept: unasked },
};
const tablet = new Tablet('t1', 'B');

function grow(event: LogEvent): void {
  kept.push({ seq: kept.length + 1, event });
}

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'setInterval', 'clearTimeout', 'clearInterval'] });
  kept.length = 0;
  lines.length = 0;
});
afterEach(() => vi.useRealTimers());

async function nextText(reader: ReadableStreamDefaultReader<Uint8Array>): Promise<string> {
  const { value, done } = await reader.read();
  return done ? '(end)' : new TextDecoder().decode(value);
}

it('a quiet line is kept open by a heartbeat', async () => {
  const live = new LiveStream(store, 0, (line) => lines.push(line));
  const reader = live.open(0).getReader();
  expect(await nextText(reader)).toContain('retry: 2000');
  expect(await nextText(reader)).toContain('event: ready');
  await vi.advanceTimersByTimeAsync(15_000);
  expect(await nextText(reader)).toBe(':\n\n');
  live.close();
  expect(await nextText(reader)).toBe('(end)');
  expect(live.pages).toBe(0);
});

it('events of one moment travel together', async () => {
  const live = new LiveStream(store, 0, (line) => lines.push(line));
  const reader = live.open(0).getReader();
  await nextText(reader);
  await nextText(reader);
  for (const value of [62, 61, 60]) {
    grow(tablet.wait(1).temp(value));
    live.notify();
  }
  await vi.advanceTimersByTimeAsync(40);
  expect((await nextText(reader)).match(/^id: /gm)).toHaveLength(3);
  live.close();
});

it('a page that does not read is cut off, the others go on', async () => {
  const live = new LiveStream(store, 0, (line) => lines.push(line));
  const asleep = live.open(0).getReader();
  const awake = live.open(0).getReader();
  const seen: string[] = [];
  const reading = (async () => {
    for (;;) {
      const text = await nextText(awake);
      if (text === '(end)') return;
      seen.push(...(text.match(/^id: \d+/gm) ?? []));
    }
  })();
  await vi.advanceTimersByTimeAsync(1);
  for (let n = 0; n < 60; n += 1) {
    grow(tablet.wait(1).write('note', { text: 'x'.repeat(100_000) }));
    live.notify();
    await vi.advanceTimersByTimeAsync(40);
  }
  expect(live.pages).toBe(1);
  expect(lines).toEqual(['live stream: a page did not read and was cut off']);
  await expect(asleep.read()).rejects.toThrow('does not read');
  live.close();
  await reading;
  expect(seen).toEqual(kept.map((s) => `id: ${s.seq}`));
});

it('a store in trouble ends the stream, so that the page asks again', async () => {
  const broken: EventStore = { ...store, since: async () => Promise.reject(new Error('disk')) };
  const live = new LiveStream(broken, 0, (line) => lines.push(line));
  const reader = live.open(0).getReader();
  expect(await nextText(reader)).toContain('retry');
  expect(await nextText(reader)).toBe('(end)');
  expect(lines.join()).toContain('disk');
});

it('a page that goes away is forgotten', async () => {
  const live = new LiveStream(store, 0, (line) => lines.push(line));
  const stream = live.open(0);
  expect(live.pages).toBe(1);
  await stream.cancel();
  expect(live.pages).toBe(0);
});
