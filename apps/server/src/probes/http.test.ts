/** Probes over HTTP against a running server, its log and its live stream. */
import {
  ErrorAnswer,
  ProbeAccessAnswer,
  ProbeNews,
  ProbeRowsAnswer,
  ProbesAnswer,
} from '@ladlework/contract';
import { Tablet } from '@ladlework/log/testing';
import * as v from 'valibot';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { post, type TestServer, testServer } from '../testing.ts';
import { lineOf, saveProbe, until } from './testing.ts';

let server: TestServer;
/** The server's clock, turned by hand. */
let nowMs = Date.UTC(2026, 10, 25, 8, 0, 0);
beforeAll(async () => {
  server = await testServer({ now: () => nowMs });
});
afterAll(() => server.end());

const rowsOf = async (id: string, query = '') => {
  const answer = await fetch(`${server.url}/api/probes/${id}/readings${query}`);
  return v.parse(ProbeRowsAnswer, await answer.json()).rows;
};

describe('P1 a reading', () => {
  it.each([
    ['as JSON', '{"value": 62.4}', 'application/json'],
    ['as a bare number', '62.4', 'text/plain'],
    ['with its unit', '{"value": "144.32 °F"}', 'application/json'],
    ['as a form', 'value=62.4&unit=C', 'application/x-www-form-urlencoded'],
  ])('%s', async (name, body, type) => {
    nowMs += 1000;
    const id = `one-${name.replaceAll(' ', '-')}`;
    const probe = await saveProbe(server, { id, offset: -0.4 });
    expect(await probe.send(body, type)).toEqual({ status: 200, json: { taken: 1 } });
    const line = await lineOf(server, id);
    expect(line?.newest?.shows).toBeCloseTo(62.4, 9);
    expect(line?.newest?.value).toBeCloseTo(62, 9);
    expect(line?.newest?.atMs).toBe(nowMs);
  });

  it('a form may carry the token, for devices that cannot set a header', async () => {
    nowMs += 1000;
    const probe = await saveProbe(server, { id: 'form' });
    const body = `value=61&token=${probe.token}`;
    const response = await fetch(`${server.url}/api/probes/form/readings`, {
      method: 'POST',
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      body,
    });
    expect(response.status).toBe(200);
  });
});

describe('P2 what is kept', () => {
  it('a batch with its own times is on disk when it is answered, sent twice once', async () => {
    const probe = await saveProbe(server, { id: 'batch' });
    const start = nowMs - 600_000;
    const readings = Array.from({ length: 600 }, (_, s) => ({
      value: 62 - s / 600,
      atMs: start + 1000 * s,
    }));
    nowMs += 1000;
    expect((await probe.send(JSON.stringify(readings))).json).toEqual({ taken: 600 });
    const rows = await rowsOf('batch');
    expect(rows.reduce((sum, r) => sum + r.readings, 0)).toBe(600);
    expect(rows.length).toBeLessThan(20);
    nowMs += 1000;
    await probe.send(JSON.stringify({ readings }));
    expect(await rowsOf('batch')).toEqual(rows);
    expect(await rowsOf('batch', `?from=${start}&to=${start}`)).toEqual(rows.slice(0, 1));
  });

  it('what was open is on disk when the server ends', async () => {
    const probe = await saveProbe(server, { id: 'ends' });
    nowMs += 1000;
    await probe.send('62.5', 'text/plain');
    server = await server.again();
    expect(await rowsOf('ends')).toMatchObject([{ first: 62.5, readings: 1 }]);
    // The token is the same after a restart.
    nowMs += 1000;
    const again = await saveProbe(server, { id: 'ends' });
    expect(again.token).toBe(probe.token);
  });
});

describe('P3 who may send', () => {
  it('only with its own token; a new count makes the old worthless', async () => {
    const [a, b] = [
      await saveProbe(server, { id: 'own-a' }),
      await saveProbe(server, { id: 'own-b' }),
    ];
    expect((await a.send('62', 'text/plain', b.token)).status).toBe(401);
    expect((await a.send('62', 'text/plain', '')).status).toBe(401);
    const answer = await a.send('62', 'text/plain', 'x'.repeat(24));
    v.parse(ErrorAnswer, answer.json);
    const renewed = await saveProbe(server, { id: 'own-a', token: 2 });
    nowMs += 2000;
    expect((await a.send('62', 'text/plain')).status).toBe(401);
    expect((await renewed.send('62', 'text/plain')).status).toBe(200);
  });

  it('a probe that is not there is told the same', async () => {
    const response = await fetch(`${server.url}/api/probes/nobody/readings`, {
      method: 'POST',
      headers: { 'content-type': 'text/plain' },
      body: '62',
    });
    expect(response.status).toBe(401);
  });

  it('wrong tokens are slowed down', async () => {
    const probe = await saveProbe(server, { id: 'guessed' });
    const statuses = await Promise.all(
      Array.from({ length: 30 }, () => probe.send('62', 'text/plain', 'wrong')),
    );
    expect(statuses.filter((s) => s.status === 429).length).toBeGreaterThan(5);
    nowMs += 60_000;
  });

  it('what a token opens is told to the page, and is in no event', async () => {
    const probe = await saveProbe(server, { id: 'secret' });
    const access = await (await fetch(`${server.url}/api/probes/secret/access`)).json();
    expect(v.parse(ProbeAccessAnswer, access)).toMatchObject({
      http: { path: '/api/probes/secret/readings', token: probe.token },
      mqtt: { topic: 'ladlework/probe/secret', user: 'secret', password: probe.token },
    });
    const log = await (await fetch(`${server.url}/api/events`)).text();
    expect(log).not.toContain(probe.token);
  });
});

describe('P4 what is wrong is said', () => {
  it.each([
    ['not JSON', '{"value": ', 'application/json', 400, /not JSON/],
    ['no number', '"hot"', 'application/json', 400, /value/],
    ['another unit', '{"value": 3, "unit": "bbl"}', 'application/json', 400, /unit/],
    ['a field nobody knows', '{"value": 3, "colour": 1}', 'application/json', 400, /colour/],
    ['another kind of body', '<value>3</value>', 'text/xml', 415, /bare number/],
    ['several without times', '[62, 63]', 'application/json', 400, /atMs: is missing/],
    ['a clock of 1970', '{"value": 62, "atMs": 1000}', 'application/json', 400, /30 days old/],
    ['a clock ahead', '{"value": 62, "atMs": 4000000000000}', 'application/json', 400, /ahead/],
    [
      'a form without a value',
      'unit=C',
      'application/x-www-form-urlencoded',
      400,
      /value: is missing/,
    ],
  ])('%s', async (name, body, type, status, message) => {
    nowMs += 1000;
    const id = `wrong-${name.replaceAll(' ', '-')}`;
    const probe = await saveProbe(server, { id });
    const before = server.lines.length;
    const answer = await probe.send(body, type);
    expect(answer.status).toBe(status);
    expect(v.parse(ErrorAnswer, answer.json).error.message).toMatch(message);
    // Told to the operator once, however often it is sent.
    nowMs += 1000;
    await probe.send(body, type);
    const told = server.lines.slice(before).filter((line) => line.includes(id));
    if (!/atMs/.test(told[0] ?? '')) expect(told).toHaveLength(1);
    expect((await lineOf(server, id))?.problem?.message).toMatch(message);
    nowMs += 1000;
    await probe.send('62', 'text/plain');
    expect((await lineOf(server, id))?.problem).toBeUndefined();
  });

  it('a body too large, and messages too many', async () => {
    const probe = await saveProbe(server, { id: 'flood' });
    expect((await probe.send('6'.repeat(70_000), 'text/plain')).status).toBe(413);
    const answers = await Promise.all(
      Array.from({ length: 60 }, () => probe.send('62', 'text/plain')),
    );
    const taken = answers.filter((a) => a.status === 200).length;
    expect(taken).toBe(30);
    expect(answers.filter((a) => a.status === 429)).toHaveLength(30);
    nowMs += 60_000;
  });
});

it('P5 pages hear the newest value of each probe once a second', async () => {
  const probe = await saveProbe(server, { id: 'heard' });
  const aborted = new AbortController();
  const response = await fetch(`${server.url}/api/stream?after=1000000`, {
    signal: aborted.signal,
  });
  const reader = response.body?.getReader();
  if (reader === undefined) throw new Error('no stream');
  let text = '';
  const read = (async () => {
    while (!/event: probes\ndata: .*heard.*\n/.test(text)) {
      const { value, done } = await reader.read();
      if (done) break;
      text += new TextDecoder().decode(value);
    }
  })();
  await until(async () => (text.includes('event: ready') ? true : undefined), 'ready');
  nowMs += 1000;
  await probe.send('61', 'text/plain');
  await probe.send('62', 'text/plain');
  await read;
  aborted.abort();
  const data = /event: probes\ndata: (.*)\n/.exec(text)?.[1] ?? '';
  const { values } = v.parse(ProbeNews, JSON.parse(data));
  expect(values.filter(([id]) => id === 'heard')).toEqual([['heard', nowMs, 62]]);
});

it('P6 a retired probe sends no more and is in no list', async () => {
  const probe = await saveProbe(server, { id: 'gone' });
  const retire = new Tablet('retire', 'B', 'probe:gone', nowMs).write('probe-retired', {});
  await post(`${server.url}/api/events`, { events: [retire] });
  nowMs += 2000;
  expect(await lineOf(server, 'gone')).toBeUndefined();
  expect((await probe.send('62', 'text/plain')).status).toBe(401);
  const all = await (await fetch(`${server.url}/api/probes`)).json();
  expect(v.parse(ProbesAnswer, all).probes.length).toBeGreaterThan(5);
});
