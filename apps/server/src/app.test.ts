/** What needs another address than this machine's, another clock, or a store in trouble. */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Tablet } from '@ladlework/log/testing';
import { type EventStore, openStore } from '@ladlework/store';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createApp } from './app.ts';
import { LiveStream } from './live-stream.ts';
import { PageFiles } from './page-files.ts';
import { Pairing } from './pairing.ts';

let folder: string;
let store: EventStore;
let live: LiveStream;
let nowMs: number;
const lines: string[] = [];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ladlework-app-'));
  const opened = openStore(join(folder, 'log.sqlite'));
  if (!opened.ok) throw new Error(opened.error.message);
  store = opened.store;
  live = new LiveStream(store, 0, (line) => lines.push(line));
  nowMs = 1_000_000;
  lines.length = 0;
});
afterEach(async () => {
  live.close();
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

function appWith(pairing: Pairing | undefined, changes: Partial<EventStore> = {}) {
  const changed: EventStore = {
    append: (events) => store.append(events),
    since: (seq, options) => store.since(seq, options),
    last: () => store.last(),
    streams: () => store.streams(),
    backup: (path) => store.backup(path),
    check: () => store.check(),
    close: () => store.close(),
    ...changes,
  };
  const deps = {
    store: changed,
    live,
    version: '0',
    now: () => nowMs,
    log: (line: string) => lines.push(line),
  };
  const app = createApp(deps, new PageFiles(folder), pairing);
  /** A request as it comes from an address. */
  return (address: string, path: string, init: RequestInit = {}) => {
    const incoming = { socket: { remoteAddress: address } } as unknown as IncomingMessage;
    const headers = { host: '192.168.1.2:8080', ...(init.headers as Record<string, string>) };
    return app.request(path, { ...init, headers }, { incoming });
  };
}

const pairing = () => new Pairing(join(folder, 'pairing'));
const TABLET = '192.168.1.20';

it('a device of the network sees nothing before it is paired', async () => {
  const ask = appWith(pairing());
  for (const path of ['/api/health', '/api/events', '/api/stream', '/api/openapi.json']) {
    expect((await ask(TABLET, path)).status).toBe(401);
  }
  const page = await ask(TABLET, '/');
  expect(page.status).toBe(401);
  expect(page.headers.get('content-security-policy')).toContain("form-action 'self'");
  expect(await page.text()).toContain('not paired');
  const write = { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' };
  expect((await ask(TABLET, '/api/events', write)).status).toBe(401);
  expect((await ask('::ffff:10.0.0.5', '/api/health')).status).toBe(401);
  expect((await ask('', '/api/health')).status).toBe(401);
});

it('the machine itself needs no pairing', async () => {
  const ask = appWith(pairing());
  for (const address of ['127.0.0.1', '127.8.8.8', '::1', '::ffff:127.0.0.1']) {
    expect((await ask(address, '/api/health')).status).toBe(200);
  }
});

it('the right code pairs a device, which stays paired over a restart', async () => {
  const first = pairing();
  const ask = appWith(first);
  const spaced = `${first.code.slice(0, 5)} ${first.code.slice(5).toUpperCase()}`;
  const paired = await ask(TABLET, `/pair?code=${encodeURIComponent(spaced)}`);
  expect(paired.status).toBe(303);
  const cookie = paired.headers.get('set-cookie') ?? '';
  expect(cookie).toMatch(/HttpOnly/);
  expect(cookie).toMatch(/SameSite=Strict/);
  const headers = { cookie: cookie.split(';')[0] ?? '' };
  expect((await ask(TABLET, '/api/health', { headers })).status).toBe(200);
  const restarted = pairing();
  expect(restarted.code).not.toBe(first.code);
  expect((await appWith(restarted)(TABLET, '/api/health', { headers })).status).toBe(200);
  const stranger = new Pairing(join(folder, 'another-brewery'));
  expect((await appWith(stranger)(TABLET, '/api/health', { headers })).status).toBe(401);
});

it('the secret is its owner’s to read', () => {
  pairing();
  expect(statSync(join(folder, 'pairing')).mode & 0o777).toBe(0o600);
});

it('tokens cannot be made up', () => {
  const own = pairing();
  const token = own.pair(own.code) ?? '';
  expect(own.knows(token)).toBe(true);
  const [name, signature] = token.split('.') as [string, string];
  for (const made of ['', '.', name, `${name}.`, `x${token}`, `${token}x`, `other.${signature}`]) {
    expect(own.knows(made)).toBe(false);
  }
});

it('guessing codes is slowed until it is hopeless', async () => {
  const own = pairing();
  const ask = appWith(own);
  const statuses: number[] = [];
  for (let n = 0; n < 8; n += 1) statuses.push((await ask(TABLET, '/pair?code=guess')).status);
  expect(statuses).toEqual([403, 403, 403, 403, 403, 429, 429, 429]);
  // Another device is not kept out by it, and the first one not for ever.
  expect((await ask('192.168.1.21', `/pair?code=${own.code}`)).status).toBe(303);
  nowMs += 21_000;
  expect((await ask(TABLET, `/pair?code=${own.code}`)).status).toBe(303);
});

it('a device that asks without end is slowed, and served again after a second', async () => {
  const own = pairing();
  const ask = appWith(own);
  const headers = { cookie: `ladlework-paired=${own.pair(own.code)}` };
  let served = 0;
  for (let n = 0; n < 400; n += 1) {
    const { status } = await ask(TABLET, '/api/time', { headers });
    if (status === 200) served += 1;
    else expect(status).toBe(429);
  }
  expect(served).toBe(200);
  nowMs += 1000;
  expect((await ask(TABLET, '/api/time', { headers })).status).toBe(200);
  expect((await ask('127.0.0.1', '/api/time')).status).toBe(200);
});

const batch = (tablet: Tablet) => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify({ events: [tablet.temp(62)] }),
});

it('a full disk is told as not saved, and nothing is acknowledged', async () => {
  const message = 'Not saved: the disk is full. Make room, and send the events again.';
  const ask = appWith(undefined, {
    append: async () => ({ ok: false, code: 'not-saved', reason: 'disk-full', message }),
  });
  const response = await ask('127.0.0.1', '/api/events', batch(new Tablet('t1', 'B')));
  expect(response.status).toBe(507);
  expect(await response.json()).toEqual({ error: { code: 'not-saved-disk-full', message } });
});

it('a bug shows the client a sentence and the operator the trace', async () => {
  const ask = appWith(undefined, {
    append: async () => {
      throw new Error('secret path /var/brew');
    },
  });
  const response = await ask('127.0.0.1', '/api/events', batch(new Tablet('t1', 'B')));
  expect(response.status).toBe(500);
  const text = await response.text();
  expect(text).not.toContain('secret');
  expect(text).not.toContain('at ');
  expect(lines.join('\n')).toContain('secret path /var/brew');
});
