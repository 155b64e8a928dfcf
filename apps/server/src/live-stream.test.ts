import { Tablet } from '@ladlework/log/testing';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { post, type TestServer, testServer } from './testing.ts';

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.end());

interface Message {
  readonly name: string;
  readonly id: string;
  readonly data: { seq?: number; last?: number; event?: { id: string } };
}

/** A reader of server-sent events that stops when asked. */
async function listen(after: number, headers: Record<string, string> = {}) {
  const stop = new AbortController();
  const response = await fetch(`${server.url}/api/stream?after=${after}`, {
    headers,
    signal: stop.signal,
  });
  const messages: Message[] = [];
  let ended = false;
  const read = (async () => {
    const reader = (response.body ?? new ReadableStream()).getReader();
    const decoder = new TextDecoder();
    let text = '';
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      text += decoder.decode(value, { stream: true });
      const blocks = text.split('\n\n');
      text = blocks.pop() ?? '';
      for (const block of blocks) {
        const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(block)?.[1] ?? '';
        if (field('event') === '') continue;
        messages.push({ name: field('event'), id: field('id'), data: JSON.parse(field('data')) });
      }
    }
  })()
    .catch((thrown: unknown) => {
      if (!stop.signal.aborted) throw thrown;
    })
    .finally(() => {
      ended = true;
    });
  return {
    response,
    messages,
    ended: () => ended,
    until: async (done: (messages: readonly Message[]) => boolean) => {
      for (let n = 0; !done(messages); n += 1) {
        if (n > 500) throw new Error(`waited in vain: ${JSON.stringify(messages)}`);
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
    },
    stop: async () => {
      stop.abort();
      await read;
    },
  };
}

const send = (events: readonly unknown[]) => post(`${server.url}/api/events`, { events });
const seqs = (messages: readonly Message[]) =>
  messages.filter((m) => m.name === 'log').map((m) => m.data.seq);
const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

it('tells the past, says when it is through, then the present', async () => {
  const b = new Tablet('t1', 'B');
  const past = [b.temp(62), b.wait(1).temp(61)];
  await send(past);
  const page = await listen(0);
  expect(page.response.headers.get('content-type')).toContain('text/event-stream');
  await page.until((m) => m.some((x) => x.name === 'ready'));
  expect(page.messages.map((m) => m.name)).toEqual(['log', 'log', 'ready']);
  expect(page.messages[2]?.data).toEqual({ last: 2 });
  const fresh = b.wait(1).temp(60);
  await send([fresh]);
  await page.until((m) => m.length === 4);
  expect(page.messages[3]).toMatchObject({ name: 'log', id: '3', data: { seq: 3 } });
  expect(page.messages[3]?.data.event?.id).toBe(fresh.id);
  // Sending again is no news.
  await send([fresh]);
  await send([b.wait(1).temp(59)]);
  await page.until((m) => m.length === 5);
  expect(seqs(page.messages)).toEqual([1, 2, 3, 4]);
  await page.stop();
});

it('goes on where the page left off: Last-Event-ID wins over after', async () => {
  const b = new Tablet('t1', 'B');
  await send(upTo(5).map(() => b.wait(1).temp(62)));
  const page = await listen(0, { 'last-event-id': '3' });
  await page.until((m) => m.some((x) => x.name === 'ready'));
  expect(seqs(page.messages)).toEqual([4, 5]);
  await page.stop();
});

it('pages that come and go while events pour in each see every event once, in order', async () => {
  const TABLETS = 4;
  const ROUNDS = 40;
  const tablets = upTo(TABLETS).map((n) => new Tablet(`t${n}`, 'B'));
  const early = await listen(0);
  const pages = [early];
  for (let n = 0; n < ROUNDS; n += 1) {
    await Promise.all(tablets.map((t) => send([t.wait(1).temp(62), t.wait(1).temp(61)])));
    if (n % 10 === 5) pages.push(await listen(0));
  }
  const total = TABLETS * ROUNDS * 2;
  for (const page of pages) {
    await page.until((m) => seqs(m).length >= total);
    expect(seqs(page.messages)).toEqual(upTo(total));
  }
  await Promise.all(pages.map((page) => page.stop()));
});

it('a page of a long log gets it whole', async () => {
  const b = new Tablet('t1', 'B');
  for (let n = 0; n < 6; n += 1) await send(upTo(400).map(() => b.wait(0.1).temp(62)));
  const page = await listen(0);
  await page.until((m) => m.some((x) => x.name === 'ready'));
  expect(seqs(page.messages)).toEqual(upTo(2400));
  await page.stop();
});

it('closing the server ends the streams and does not wait for them', async () => {
  const page = await listen(0);
  const started = performance.now();
  server = await server.again();
  expect(performance.now() - started).toBeLessThan(2500);
  for (let n = 0; !page.ended() && n < 100; n += 1) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  expect(page.ended()).toBe(true);
});
