/** Input from somebody who means no good. Nothing gets in, nothing leaks, the server goes on. */
import { request } from 'node:http';
import { connect } from 'node:net';
import { ErrorAnswer } from '@ladlework/contract';
import { Tablet } from '@ladlework/log/testing';
import * as v from 'valibot';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { post, type TestServer, testServer } from './testing.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer();
});
afterAll(() => server.end());
afterEach(async () => {
  expect((await fetch(`${server.url}/api/health`)).status).toBe(200);
});

/** An error that is ours, and tells nothing of the inside. */
function expectPlain(json: unknown): void {
  v.parse(ErrorAnswer, json);
  expect(JSON.stringify(json)).not.toMatch(/node_modules|\.ts\b|at \w+ \(|SQLITE|Error:/);
}

it.each([
  ['broken JSON', '{"events": [', 400],
  ['nothing', '', 400],
  ['null', 'null', 400],
  ['a number', '7', 400],
  ['a list', '[]', 400],
  ['no events', '{"events": []}', 400],
  ['events of another kind', '{"events": {}}', 400],
  ['a field nobody knows', '{"events": [1], "sudo": true}', 400],
  ['prototype keys', '{"__proto__": {"events": []}, "constructor": {}}', 400],
  ['501 events', JSON.stringify({ events: Array(501).fill(0) }), 400],
  ['deep nesting', `{"events": ${'['.repeat(50_000)}${']'.repeat(50_000)}}`, 200],
] as const)('POST /api/events with %s', async (_, body, status) => {
  const answer = await post(`${server.url}/api/events`, body);
  expect(answer.status).toBe(status);
  if (status !== 200) expectPlain(answer.json);
});

it('a body of another type is refused, so that no foreign form can post', async () => {
  for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'application/jsonx']) {
    const answer = await post(`${server.url}/api/events`, '{}', { 'content-type': type });
    expect(answer.status).toBe(415);
    expectPlain(answer.json);
  }
});

it('a huge body is refused by its length and while it comes in', async () => {
  const big = 'x'.repeat(3 * 1024 * 1024);
  const announced = await post(`${server.url}/api/events`, big);
  expect(announced.status).toBe(413);
  expectPlain(announced.json);
  const stream = new ReadableStream({
    start(controller) {
      for (let n = 0; n < 48; n += 1)
        controller.enqueue(new TextEncoder().encode('y'.repeat(65536)));
      controller.close();
    },
  });
  const chunked = await fetch(`${server.url}/api/check`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: stream,
    duplex: 'half',
  } as RequestInit);
  expect(chunked.status).toBe(413);
});

it('prototype keys inside an event change nothing and are refused', async () => {
  const event = JSON.stringify(new Tablet('h1', 'B').temp(62));
  const hostile = `${event.slice(0, -1)},"__proto__":{"polluted":1}}`;
  const { json } = await post(`${server.url}/api/events`, `{"events":[${hostile}]}`);
  expect(json).toMatchObject({ results: [{ ok: false, code: 'invalid' }] });
  expect(({} as Record<string, unknown>).polluted).toBeUndefined();
});

it.each([
  '/api/events?after=-1',
  '/api/events?after=1e9',
  '/api/events?after=0x10',
  '/api/events?after=0;DROP TABLE event',
  '/api/events?stream=../../etc',
  '/api/stream?after=soon',
  '/api/brews/x/record?format=exe',
])('GET %s', async (path) => {
  const response = await fetch(server.url + encodeURI(path));
  expect(response.status).toBe(400);
  expectPlain(await response.json());
});

it.each([
  '/api/brews/%27%20OR%201=1--/record',
  '/api/brews/%2e%2e%2f%2e%2e/record',
  '/api/nothing',
  '/api/brews/b1',
])('GET %s is nowhere', async (path) => {
  const response = await fetch(server.url + path);
  expect(response.status).toBe(404);
  expectPlain(await response.json());
});

/** Sends a request line as it is; fetch would tidy the path. */
function raw(text: string): Promise<string> {
  const { port } = new URL(server.url);
  return new Promise((resolve, reject) => {
    const socket = connect(Number(port), '127.0.0.1', () => socket.write(text));
    let got = '';
    socket.on('data', (chunk) => {
      got += String(chunk);
    });
    socket.on('close', () => resolve(got));
    socket.on('error', reject);
  });
}

it.each([
  '/../../../../etc/passwd',
  '/assets/../../../etc/passwd',
  '/%2e%2e/%2e%2e/etc/passwd',
  '/..%5c..%5cetc%5cpasswd',
  '//etc/passwd',
  '/%00',
  '/%E0%A4%A',
])('path %s reaches no file', async (path) => {
  const { host } = new URL(server.url);
  const answer = await raw(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
  expect(answer).toMatch(/^HTTP\/1\.1 (400|404|503)/);
  expect(answer).not.toContain('root:');
});

it('a request that is none is answered or cut off', async () => {
  expect(await raw('GARBAGE\r\n\r\n')).toMatch(/^(HTTP\/1\.1 400|$)/);
});

it('a name of another’s making is refused', async () => {
  const { host } = new URL(server.url);
  const evil = await raw(
    'GET /api/events HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n',
  );
  expect(evil).toMatch(/^HTTP\/1\.1 403/);
  const none = await raw('GET /api/events HTTP/1.0\r\n\r\n');
  expect(none).toMatch(/^HTTP\/1\.1 (400|403)/);
  const own = await raw(`GET /api/health HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
  expect(own).toMatch(/^HTTP\/1\.1 200/);
});

it('another site’s page cannot write in the name of this machine', async () => {
  const status = await new Promise<number | undefined>((resolve, reject) => {
    const outgoing = request(
      `${server.url}/api/events`,
      {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin: 'https://evil.example' },
      },
      (incoming) => {
        incoming.resume();
        resolve(incoming.statusCode);
      },
    );
    outgoing.on('error', reject);
    outgoing.end('{"events":[]}');
  });
  expect(status).toBe(403);
});

it('every answer carries the headers that keep a page safe', async () => {
  for (const path of ['/api/health', '/api/nothing', '/', '/missing.js']) {
    const { headers } = await fetch(server.url + path);
    expect(headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(headers.get('content-security-policy')).not.toContain('unsafe');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(headers.get('x-powered-by')).toBeNull();
  }
});
