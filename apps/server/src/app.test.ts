/** What needs another address than this machine's, another clock, or a store in trouble. */
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Role } from '@ladlework/contract';
import { Tablet } from '@ladlework/log/testing';
import { type EventStore, openStore } from '@ladlework/store';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createApp } from './app.ts';
import { Devices } from './devices.ts';
import type { Entrance } from './entrance.ts';
import { LiveStream } from './live-stream.ts';
import { PageFiles } from './page-files.ts';
import { PairCodes } from './pair-codes.ts';
import { Probes } from './probes/probes.ts';
import { ProbeTokens } from './probes/tokens.ts';

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

function appWith(entrance: Entrance | undefined, changes: Partial<EventStore> = {}) {
  const changed: EventStore = {
    append: (events) => store.append(events),
    since: (seq, options) => store.since(seq, options),
    last: () => store.last(),
    streams: () => store.streams(),
    backup: (path) => store.backup(path),
    check: () => store.check(),
    close: () => store.close(),
    readings: store.readings,
    ...changes,
  };
  const deps = {
    store: changed,
    live,
    version: '0',
    now: () => nowMs,
    log: (line: string) => lines.push(line),
    tokens: new ProbeTokens(join(folder, 'probes')),
    mqtt: () => ({}),
  };
  const probes = new Probes(deps);
  const app = createApp({ ...deps, probes }, new PageFiles(folder), entrance);
  /** A request as it comes from an address. */
  return (address: string, path: string, init: RequestInit = {}) => {
    const incoming = { socket: { remoteAddress: address } } as unknown as IncomingMessage;
    const headers = { host: '192.168.1.2:8080', ...(init.headers as Record<string, string>) };
    return app.request(path, { ...init, headers }, { incoming });
  };
}

const entrance = (more: Partial<Entrance> = {}): Entrance => ({
  devices: new Devices(
    join(folder, 'devices'),
    () => nowMs,
    (line) => lines.push(line),
  ),
  codes: new PairCodes(),
  authority: undefined,
  pairAll: false,
  port: 8080,
  onlyAt: undefined,
  ...more,
});

const pair = (code: string, name = 'Tablet') => ({
  method: 'POST',
  headers: { 'content-type': 'application/x-www-form-urlencoded' },
  body: new URLSearchParams({ code, name }).toString(),
});

/** Headers of a device let in as a role. */
const asRole = (own: Entrance, role: Role) => ({
  cookie: `ladlework-paired=${own.devices.add(role, role, false)}`,
});

const TABLET = '192.168.1.20';

it('a device of the network sees nothing before it is paired', async () => {
  const ask = appWith(entrance());
  for (const path of [
    '/api/health',
    '/api/time',
    '/api/me',
    '/api/events',
    '/api/stream',
    '/api/kits',
    '/api/beers',
    '/api/brews',
    '/api/brews/b1/record',
    '/api/devices',
    '/api/openapi.json',
    '/api/nothing',
  ]) {
    expect((await ask(TABLET, path)).status).toBe(401);
  }
  for (const path of ['/', '/index.html', '/assets/index.js', '/sw.js', '/theme.js']) {
    const page = await ask(TABLET, path);
    expect(page.status).toBe(401);
    expect(page.headers.get('content-security-policy')).toContain("form-action 'self'");
    expect(await page.text()).toContain('not paired');
  }
  const write = { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' };
  for (const path of ['/api/events', '/api/check', '/api/devices/codes', '/api/devices/a/revoke']) {
    expect((await ask(TABLET, path, write)).status).toBe(401);
  }
  expect((await ask('::ffff:10.0.0.5', '/api/health')).status).toBe(401);
  expect((await ask('', '/api/health')).status).toBe(401);
});

it('the machine itself needs no pairing, unless it is asked for', async () => {
  const ask = appWith(entrance());
  const askAll = appWith(entrance({ pairAll: true }));
  for (const address of ['127.0.0.1', '127.8.8.8', '::1', '::ffff:127.0.0.1']) {
    expect((await ask(address, '/api/health')).status).toBe(200);
    expect((await askAll(address, '/api/health')).status).toBe(401);
  }
});

it('the right code pairs a device, which stays paired over a restart', async () => {
  const first = entrance();
  const ask = appWith(first);
  const code = first.codes.of('brewer');
  const spaced = `${code.slice(0, 5)} ${code.slice(5).toUpperCase()}`;
  const opened = await ask(TABLET, `/pair?code=${encodeURIComponent(spaced)}`);
  expect(opened.status).toBe(200);
  expect(opened.headers.get('set-cookie')).toBeNull();
  expect(first.devices.list()).toEqual([]);
  const paired = await ask(TABLET, '/pair', pair(spaced, 'Tablet at the kettle'));
  expect(paired.status).toBe(303);
  const cookie = paired.headers.get('set-cookie') ?? '';
  expect(cookie).toMatch(/HttpOnly/);
  expect(cookie).toMatch(/SameSite=Strict/);
  const headers = { cookie: cookie.split(';')[0] ?? '' };
  expect((await ask(TABLET, '/api/health', { headers })).status).toBe(200);
  expect(await (await ask(TABLET, '/api/me', { headers })).json()).toMatchObject({
    role: 'brewer',
    name: 'Tablet at the kettle',
    secure: false,
  });
  const restarted = entrance();
  expect(restarted.codes.of('brewer')).not.toBe(code);
  expect((await appWith(restarted)(TABLET, '/api/health', { headers })).status).toBe(200);
  const stranger = entrance({
    devices: new Devices(
      join(folder, 'another'),
      () => nowMs,
      (line) => lines.push(line),
    ),
  });
  expect((await appWith(stranger)(TABLET, '/api/health', { headers })).status).toBe(401);
});

it('the list of devices is its owner’s to read, and lets nobody in', () => {
  const own = entrance();
  const token = own.devices.add('brewer', 'Tablet', true) ?? '';
  expect(statSync(join(folder, 'devices')).mode & 0o777).toBe(0o600);
  expect(readFileSync(join(folder, 'devices'), 'utf8')).not.toContain(token);
});

it('a damaged list lets nobody in, is told, and is put aside', async () => {
  entrance().devices.add('brewer', 'Tablet', true);
  writeFileSync(join(folder, 'devices'), '{"devices": [{"id": "x"}]}');
  const { devices } = entrance();
  expect(devices.list()).toEqual([]);
  expect(devices.problem).toMatch(/was damaged .* Pair each device again/);
  expect(existsSync(join(folder, 'devices.damaged'))).toBe(true);
});

it('a disk that takes nothing more keeps no paired device out, and is told', async () => {
  const own = entrance();
  const ask = appWith(own);
  const headers = asRole(own, 'brewer');
  // Where the half-written file would go there is a folder: no file can be written any more.
  mkdirSync(join(folder, 'devices.part'));
  nowMs += 3_600_000;
  expect((await ask(TABLET, '/api/time', { headers })).status).toBe(200);
  expect(lines.join()).toMatch(/list of devices was not saved/);
  const device = own.devices.list()[0];
  if (device === undefined) throw new Error('no device');
  expect(own.devices.exchange(device)).toBeUndefined();
  expect((await ask(TABLET, '/api/time', { headers })).status).toBe(200);
  expect(() => own.devices.add('viewer', 'x', true)).toThrow();
  expect(own.devices.list()).toHaveLength(1);
});

it('tokens cannot be made up', () => {
  const own = entrance();
  const token = own.devices.add('brewer', 'Tablet', true) ?? '';
  expect(own.devices.byToken(token)?.role).toBe('brewer');
  const hash = own.devices.list()[0]?.token ?? '';
  for (const made of ['', hash, token.slice(1), `x${token}`, `${token}x`, 'y'.repeat(4000)]) {
    expect(own.devices.byToken(made)).toBeUndefined();
  }
});

it('a device that is shut out is out at once, its open stream too', async () => {
  const own = entrance();
  const ask = appWith(own);
  const [lost, brewer] = [asRole(own, 'viewer'), asRole(own, 'brewer')];
  const stream = await ask(TABLET, '/api/stream', { headers: lost });
  const list = (await (await ask(TABLET, '/api/devices', { headers: brewer })).json()) as {
    devices: { id: string; role: string; here: boolean; token?: string }[];
  };
  expect(list.devices.map((d) => [d.role, d.here, d.token])).toEqual([
    ['viewer', false, undefined],
    ['brewer', true, undefined],
  ]);
  const id = list.devices[0]?.id;
  const post = { method: 'POST', headers: brewer };
  expect((await ask(TABLET, `/api/devices/${id}/revoke`, post)).status).toBe(200);
  expect((await ask(TABLET, `/api/devices/${id}/revoke`, post)).status).toBe(404);
  expect((await ask(TABLET, '/api/time', { headers: lost })).status).toBe(401);
  await stream.text();
  expect((await ask(TABLET, '/api/time', { headers: brewer })).status).toBe(200);
});

it('new codes end the old ones', async () => {
  const own = entrance();
  const ask = appWith(own);
  const old = own.codes.of('helper');
  const post = { method: 'POST', headers: asRole(own, 'brewer') };
  expect((await ask(TABLET, '/api/devices/codes', post)).status).toBe(200);
  expect((await ask(TABLET, '/pair', pair(old))).status).toBe(403);
  expect((await ask(TABLET, '/pair', pair(own.codes.of('helper')))).status).toBe(303);
});

it('guessing codes is slowed until it is hopeless', async () => {
  const own = entrance();
  const ask = appWith(own);
  const code = own.codes.of('brewer');
  const statuses: number[] = [];
  for (let n = 0; n < 8; n += 1) statuses.push((await ask(TABLET, '/pair', pair('guess'))).status);
  expect(statuses).toEqual([403, 403, 403, 403, 403, 429, 429, 429]);
  // Another device is not kept out by it, and the first one not for ever.
  expect((await ask('192.168.1.21', '/pair', pair(code))).status).toBe(303);
  nowMs += 21_000;
  expect((await ask(TABLET, '/pair', pair(code))).status).toBe(303);
});

it('what a stranger sends to pair is small, and what he writes is shown as text', async () => {
  const ask = appWith(entrance());
  expect((await ask(TABLET, '/pair', pair('x'.repeat(5000)))).status).toBe(413);
  const page = await ask(TABLET, `/pair?code=${encodeURIComponent('"><script>1</script>')}`);
  const text = await page.text();
  expect(text).not.toContain('<script');
  expect(text).toContain('&lt;script&gt;');
});

it('a device that asks without end is slowed, and served again after a second', async () => {
  const own = entrance();
  const ask = appWith(own);
  const headers = asRole(own, 'brewer');
  let served = 0;
  for (let n = 0; n < 400; n += 1) {
    const { status } = await ask(TABLET, '/api/time', { headers });
    if (status === 200) served += 1;
    else expect(status).toBe(429);
  }
  expect(served).toBe(200);
  // Another behind the same router is not held up by it, and neither is the machine itself.
  expect((await ask(TABLET, '/api/time', { headers: asRole(own, 'helper') })).status).toBe(200);
  expect((await ask('127.0.0.1', '/api/time')).status).toBe(200);
  nowMs += 1000;
  expect((await ask(TABLET, '/api/time', { headers })).status).toBe(200);
});

it('tokens that are made up are tried no faster than anything else from that address', async () => {
  const ask = appWith(entrance());
  const statuses = new Map<number, number>();
  for (let n = 0; n < 300; n += 1) {
    const { status } = await ask(TABLET, '/api/time', {
      headers: { cookie: `ladlework-paired=guess${n}` },
    });
    statuses.set(status, (statuses.get(status) ?? 0) + 1);
  }
  expect(Object.fromEntries(statuses)).toEqual({ 401: 200, 429: 100 });
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
