/** The API on a real server; every answer is held against the published schema. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  AppendAnswer,
  BeersAnswer,
  BrewsAnswer,
  CheckAnswer,
  ErrorAnswer,
  EventsAnswer,
  HealthAnswer,
  KitsAnswer,
  parsePlanDocument,
  RecordAnswer,
  TimeAnswer,
} from '@ladlework/contract';
import { exampleDocument } from '@ladlework/contract/testing';
import type { LogEvent } from '@ladlework/log';
import { ONE_PULL, Tablet } from '@ladlework/log/testing';
import * as v from 'valibot';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { startServer } from './server.ts';
import { post, type TestServer, testServer } from './testing.ts';

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.end());

async function get<S extends v.GenericSchema>(schema: S, path: string): Promise<v.InferOutput<S>> {
  const response = await fetch(server.url + path);
  expect(response.status).toBe(200);
  return v.parse(schema, await response.json());
}

async function append(events: readonly unknown[]) {
  const { status, json } = await post(`${server.url}/api/events`, { events });
  expect(status).toBe(200);
  return v.parse(AppendAnswer, json).results;
}

function example() {
  const parsed = parsePlanDocument(exampleDocument());
  if (!parsed.ok) throw new Error('the example is wrong');
  return parsed.document;
}

function day(): LogEvent[] {
  const b = new Tablet('t1', 'B');
  return [
    b.write('brew-planned', { document: example(), planSummary: ONE_PULL }),
    b.write('brew-started', { startAtMs: b.nowMs, clock: { utcOffsetMin: 60 } }),
    b.wait(26).write('move-begun', { moveId: 'mash-in' }),
    b.wait(14).write('move-done', { moveId: 'mash-in' }),
    b.wait(5).temp(61.4, { places: 3, moveId: 'mash-in' }),
  ];
}

it('says that it is well, what time it has, and what it can do', async () => {
  expect(await get(HealthAnswer, '/api/health')).toMatchObject({ ok: true, events: 0 });
  const before = Date.now();
  const { nowMs } = await get(TimeAnswer, '/api/time');
  expect(nowMs).toBeGreaterThanOrEqual(before);
  const response = await fetch(`${server.url}/api/openapi.json`);
  expect(await response.json()).toMatchObject({ openapi: '3.1.0' });
});

it('acknowledges events one by one, and sending again changes nothing', async () => {
  const events = day();
  const first = await append(events);
  expect(first.map((r) => r.ok && r.seq)).toEqual([1, 2, 3, 4, 5]);
  expect(await append(events)).toEqual(first);
  const answer = await get(EventsAnswer, '/api/events?after=0');
  expect(answer.events.map((e) => e.event)).toEqual(events);
  expect(answer.last).toBe(5);
  expect((await get(EventsAnswer, '/api/events?after=4')).events).toHaveLength(1);
  expect((await get(EventsAnswer, '/api/events?stream=brew:none')).events).toEqual([]);
});

it('one bad event does not hold up the others', async () => {
  const b = new Tablet('t1', 'B');
  const [good, hot, last] = [b.temp(62), b.temp(120), b.temp(63)];
  const results = await append([good, hot, 'nonsense', last]);
  expect(results.map((r) => r.ok)).toEqual([true, false, false, true]);
  expect(results[1]).toMatchObject({
    id: hot.id,
    code: 'invalid',
    errors: [{ field: 'data.value', allowed: '0.0 °C to 105.0 °C' }],
  });
  expect((await get(EventsAnswer, '/api/events')).events.map((e) => e.event.id)).toEqual([
    good.id,
    last.id,
  ]);
});

it('an id that is known with other content is refused', async () => {
  const event = new Tablet('t1', 'B').temp(62);
  await append([event]);
  const [result] = await append([{ ...event, who: 'H' }]);
  expect(result).toMatchObject({ ok: false, id: event.id, code: 'other-content' });
});

it('everything is there after a restart', async () => {
  const events = day();
  await append(events);
  server = await server.again();
  const answer = await get(EventsAnswer, '/api/events');
  expect(answer.events.map((e) => e.event)).toEqual(events);
  expect(await append(events)).toHaveLength(events.length);
  expect((await get(HealthAnswer, '/api/health')).events).toBe(events.length);
});

it('lists brews, kits and beers, and follows when they grow', async () => {
  const document = example();
  const kit = new Tablet('t2', 'B', `kit:${document.kit.id}`);
  const beer = new Tablet('t3', 'B', `beer:${document.beer.id}`);
  const [plan, ...rest] = day();
  await append([
    kit.write('kit-saved', { kit: document.kit }),
    beer.write('beer-saved', { beer: document.beer, mash: document.mash, kitId: document.kit.id }),
    plan,
  ]);
  expect((await get(KitsAnswer, '/api/kits')).kits).toMatchObject([
    { id: 'two-vessels', version: 1, retired: false },
  ]);
  expect((await get(BeersAnswer, '/api/beers')).beers).toMatchObject([
    { id: 'pale-lager', kitId: 'two-vessels', mash: { layout: 'carry' } },
  ]);
  const before = await get(BrewsAnswer, '/api/brews');
  expect(before.brews).toMatchObject([{ brew: 'b1', beer: 'Pale lager', readings: 0 }]);
  await append([...rest, kit.wait(1).write('kit-retired', {})]);
  const after = await get(BrewsAnswer, '/api/brews');
  expect(after.brews).toMatchObject([{ brew: 'b1', readings: 1, next: 'pull-1' }]);
  expect((await get(KitsAnswer, '/api/kits')).kits[0]?.retired).toBe(true);
});

it('gives the record of a brew as JSON and as a table', async () => {
  await append(day());
  const record = await get(RecordAnswer, '/api/brews/b1/record');
  expect(record.brew.brew).toBe('b1');
  expect(record.rows.find((r) => r.code === 'M1')).toMatchObject({ deviation: 6 });
  const csv = await fetch(`${server.url}/api/brews/b1/record?format=csv`);
  expect(csv.headers.get('content-type')).toContain('text/csv');
  expect(csv.headers.get('content-disposition')).toBe('attachment; filename="brew-b1.csv"');
  expect((await csv.text()).split('\r\n')[0]).toContain('box,time');
  const none = await fetch(`${server.url}/api/brews/zzz/record`);
  expect(none.status).toBe(404);
  v.parse(ErrorAnswer, await none.json());
});

it('checks a plan document without keeping it', async () => {
  const good = await post(`${server.url}/api/check`, exampleDocument());
  expect(v.parse(CheckAnswer, good.json).ok).toBe(true);
  const bad = await post(`${server.url}/api/check`, { ...exampleDocument(), day: {} });
  const answer = v.parse(CheckAnswer, bad.json);
  expect(answer.ok ? [] : answer.errors.map((e) => e.field)).toContain('day.startMin');
  expect((await get(HealthAnswer, '/api/health')).events).toBe(0);
});

it('sows the invented brewery into an empty log, once', async () => {
  const examplesRoot = join(server.folder, 'examples');
  mkdirSync(examplesRoot);
  const document = exampleDocument();
  const put = (name: string, json: unknown) =>
    writeFileSync(join(examplesRoot, name), typeof json === 'string' ? json : JSON.stringify(json));
  put('a.json', document);
  put('b.json', { ...document, kit: { ...document.kit, name: 'Another name' } });
  put('c.json', { ...document, day: { ...document.day, gristC: 'warm' } });
  put('d.json', '{ half');
  put('notes.txt', 'not a brew file');
  server = await server.again({ examplesRoot });
  expect(server.problems).toHaveLength(4); // b, c and d, and that no page is built
  expect(server.problems.join('\n')).toContain('b.json: kit:two-vessels is in a.json');
  expect(server.problems.join('\n')).toContain('c.json: day.gristC');
  expect((await get(KitsAnswer, '/api/kits')).kits).toHaveLength(1);
  expect((await get(BeersAnswer, '/api/beers')).beers).toHaveLength(1);
  server = await server.again({ examplesRoot });
  expect((await get(HealthAnswer, '/api/health')).events).toBe(2);
});

it('a port that is taken, an address that is not ours and a damaged log are told', async () => {
  const port = Number(new URL(server.url).port);
  const base = { dbPath: join(server.folder, 'other.sqlite'), webRoot: server.folder };
  expect(await startServer({ ...base, port })).toMatchObject({ ok: false, code: 'port-in-use' });
  expect(await startServer({ ...base, host: '203.0.113.7' })).toMatchObject({
    ok: false,
    code: 'bad-address',
  });
  writeFileSync(join(server.folder, 'bad.sqlite'), 'not a database, by any means'.repeat(10));
  const damaged = { ...base, dbPath: join(server.folder, 'bad.sqlite') };
  expect(await startServer(damaged)).toMatchObject({ ok: false, code: 'damaged' });
});
