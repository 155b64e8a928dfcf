/** Every route and every type of event against every role, asked of the real server. */
import { DevicesAnswer, MeAnswer, parsePlanDocument, type Role } from '@ladlework/contract';
import { exampleDocument, exampleProbe } from '@ladlework/contract/testing';
import type { EventType, LogEvent } from '@ladlework/log';
import { ONE_PULL, Tablet, tempReading } from '@ladlework/log/testing';
import * as v from 'valibot';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { post, type TestServer, testServer } from './testing.ts';

let server: TestServer;
const cookies: Partial<Record<Role, string>> = {};

beforeAll(async () => {
  server = await testServer({ pairAll: true });
  for (const role of ['brewer', 'helper', 'viewer'] as const) {
    const paired = await fetch(`${local()}/pair`, {
      method: 'POST',
      redirect: 'manual',
      body: new URLSearchParams({ code: server.pairing?.codes[role] ?? '', name: role }),
    });
    cookies[role] = paired.headers.get('set-cookie')?.split(';')[0] ?? '';
  }
});
afterAll(() => server.end());

const local = () => `http://127.0.0.1:${new URL(server.url).port}`;
const cookie = (role: Role) => ({ cookie: cookies[role] ?? '' });

const send = async (role: Role, ...events: LogEvent[]) => {
  const answer = await post(`${local()}/api/events`, { events }, cookie(role));
  return answer as {
    status: number;
    json: { results?: { ok: boolean; code?: string; errors?: { message: string }[] }[] };
  };
};

const parsed = parsePlanDocument(exampleDocument());
if (!parsed.ok) throw new Error('the example is no plan document');
const { document } = parsed;
const { kit, beer } = document;

/** One event of each type; a type that is added to the log must be added here to compile. */
const SAMPLES: Readonly<Record<EventType, (device: string) => LogEvent>> = {
  'kit-saved': (d) => new Tablet(d, 'B', `kit:${kit.id}`).write('kit-saved', { kit }),
  'kit-retired': (d) => new Tablet(d, 'B', `kit:${kit.id}`).write('kit-retired', {}),
  'beer-saved': (d) => new Tablet(d, 'B', `beer:${beer.id}`).write('beer-saved', { beer }),
  'beer-retired': (d) => new Tablet(d, 'B', `beer:${beer.id}`).write('beer-retired', {}),
  'probe-saved': (d) =>
    new Tablet(d, 'B', 'probe:p').write('probe-saved', { probe: exampleProbe() }),
  'probe-retired': (d) => new Tablet(d, 'B', 'probe:p').write('probe-retired', {}),
  'brew-planned': (d) =>
    new Tablet(d, 'B').write('brew-planned', { document, planSummary: ONE_PULL }),
  'plan-changed': (d) =>
    new Tablet(d, 'B').write('plan-changed', { document, planSummary: ONE_PULL, reason: 'late' }),
  'brew-started': (d) =>
    new Tablet(d, 'B').write('brew-started', { startAtMs: 1, clock: { utcOffsetMin: 0 } }),
  'brew-ended': (d) => new Tablet(d, 'B').write('brew-ended', { reason: 'finished' }),
  'miss-mended': (d) => new Tablet(d, 'B').write('miss-mended', { code: 'wait', text: 'Wait' }),
  'miss-told': (d) =>
    new Tablet(d, 'B').write('miss-told', { code: 'burner-out', text: 'Burner out', thing: 'jet' }),
  'miss-over': (d) => new Tablet(d, 'B').write('miss-over', { miss: 'a'.repeat(32) }),
  'kettle-chosen': (d) =>
    new Tablet(d, 'B').write('kettle-chosen', {
      way: 'boil-longer',
      minutes: 84,
      liquorL: 0,
      extractKg: 0,
      text: 'Boil 84 min',
    }),
  'wort-read': (d) =>
    new Tablet(d, 'B').write('wort-read', { point: 'kettle-full', litres: 512, text: '512' }),
  'move-begun': (d) => new Tablet(d, 'B').write('move-begun', { moveId: 'pull-1' }),
  'move-done': (d) => new Tablet(d, 'B').write('move-done', { moveId: 'pull-1' }),
  reading: (d) => new Tablet(d, 'B').temp(62),
  'ladles-returned': (d) =>
    new Tablet(d, 'B').write('ladles-returned', { moveId: 'return-1', portions: 1 }),
  'caution-seen': (d) => new Tablet(d, 'B').write('caution-seen', { moveId: 'm', code: 'scald' }),
  'gate-confirmed': (d) => new Tablet(d, 'B').write('gate-confirmed', { code: 'drain' }),
  'brewer-called': (d) => new Tablet(d, 'H').write('brewer-called', {}),
  note: (d) => new Tablet(d, 'B').write('note', { text: 'Lid was off' }),
  corrected: (d) => mend(d, 'corrected'),
  withdrawn: (d) => mend(d, 'withdrawn'),
};

/** A mend of something another tablet wrote. */
function mend(device: string, type: 'corrected' | 'withdrawn'): LogEvent {
  const tablet = new Tablet(device, 'B');
  const corrects = new Tablet('somebody', 'B').temp(61).id;
  return type === 'withdrawn'
    ? tablet.write('withdrawn', { reason: 'slip' }, { corrects })
    : tablet.write(
        'corrected',
        { of: 'reading', data: tempReading(60), reason: 'misread' },
        { corrects },
      );
}

const HELPERS: readonly EventType[] = [
  'move-begun',
  'move-done',
  'reading',
  'wort-read',
  'ladles-returned',
  'caution-seen',
  'gate-confirmed',
  'miss-told',
  'miss-over',
  'brewer-called',
  'note',
];

describe('events', () => {
  beforeAll(async () => {
    const { json } = await send('brewer', new Tablet('somebody', 'B').temp(61));
    expect(json.results).toMatchObject([{ ok: true }]);
  });

  it.each(Object.keys(SAMPLES) as EventType[])('%s', async (type) => {
    const brewer = await send('brewer', SAMPLES[type](`brewer-${type}`));
    expect(brewer.json.results).toMatchObject([{ ok: true }]);

    const helper = await send('helper', SAMPLES[type](`helper-${type}`));
    expect(helper.status).toBe(200);
    if (HELPERS.includes(type)) expect(helper.json.results).toMatchObject([{ ok: true }]);
    else {
      expect(helper.json.results).toMatchObject([{ ok: false, code: 'not-your-role' }]);
      expect(helper.json.results?.[0]?.errors?.[0]?.message).toContain('paired as a helper');
    }

    const before = await lastOf(server);
    const viewer = await send('viewer', SAMPLES[type](`viewer-${type}`));
    expect(viewer.status).toBe(403);
    expect(await lastOf(server)).toBe(before);
  });

  it('what is refused of a batch leaves the rest, in order', async () => {
    const tablet = new Tablet('mixed', 'H');
    const { json } = await send(
      'helper',
      tablet.temp(62),
      SAMPLES['kit-saved']('mixed-kit'),
      tablet.temp(63),
    );
    expect(json.results?.map((r) => r.ok)).toEqual([true, false, true]);
  });

  it('a helper mends its own slip, also when both come late together, and nobody else’s', async () => {
    const tablet = new Tablet('own', 'H');
    const reading = tablet.temp(66);
    const undo = tablet.write('withdrawn', { reason: 'undone' }, { corrects: reading.id });
    expect((await send('helper', reading, undo)).json.results?.map((r) => r.ok)).toEqual([
      true,
      true,
    ]);
    const again = tablet.write('withdrawn', { reason: 'no' }, { corrects: undo.id });
    expect((await send('helper', again)).json.results).toMatchObject([{ ok: true }]);
    const nothing = tablet.write('withdrawn', { reason: 'x' }, { corrects: 'f'.repeat(32) });
    expect((await send('helper', nothing)).json.results).toMatchObject([{ ok: false }]);
    // Sending along a made-up event under the id of another's does not make it one's own.
    const theirs = new Tablet('somebody', 'B').temp(61);
    const posing = { ...tablet.temp(50), id: theirs.id };
    const steal = tablet.write('withdrawn', { reason: 'x' }, { corrects: theirs.id });
    expect((await send('helper', posing, steal)).json.results?.map((r) => r.ok)).toEqual([
      false,
      false,
    ]);
    // Nor what a brewer's tablet may write and a helper's may not, on a tablet that was once one.
    const ended = new Tablet('turned', 'B').write('brew-ended', { reason: 'abandoned' });
    await send('brewer', ended);
    const turned = new Tablet('turned', 'H').wait(1);
    turned.temp(1); // counts one on, as the tablet had
    const undoEnd = turned.write('withdrawn', { reason: 'x' }, { corrects: ended.id });
    expect((await send('helper', undoEnd)).json.results).toMatchObject([{ ok: false }]);
  });
});

describe('routes', () => {
  const READS = [
    '/api/me',
    '/api/health',
    '/api/time',
    '/api/openapi.json',
    '/api/kits',
    '/api/beers',
    '/api/brews',
    '/api/brews/b1/record',
    '/api/events',
  ];
  it.each(READS)('GET %s is everybody’s who is paired', async (path) => {
    for (const role of ['brewer', 'helper', 'viewer'] as const) {
      const { status } = await fetch(local() + path, { headers: cookie(role) });
      expect(status).toBe(200);
    }
  });

  it('answers are as the description says', async () => {
    const json = async (path: string) =>
      (await fetch(local() + path, { headers: cookie('brewer') })).json();
    expect(v.parse(MeAnswer, await json('/api/me')).role).toBe('brewer');
    const list = v.parse(DevicesAnswer, await json('/api/devices'));
    expect(list.devices.map((d) => d.name)).toEqual(['brewer', 'helper', 'viewer']);
    expect(list.trust?.fingerprint).toBe(server.pairing?.fingerprint);
  });

  it('the live stream too', async () => {
    for (const role of ['brewer', 'helper', 'viewer'] as const) {
      const cut = new AbortController();
      const answer = await fetch(`${local()}/api/stream`, {
        headers: cookie(role),
        signal: cut.signal,
      });
      expect(answer.status).toBe(200);
      cut.abort();
    }
  });

  it.each([
    ['GET', '/api/devices', [200, 403, 403]],
    ['POST', '/api/devices/codes', [200, 403, 403]],
    ['GET', '/api/probes', [200, 200, 200]],
    ['GET', '/api/probes/nobody/access', [404, 403, 403]],
    ['POST', '/api/devices/nobody/revoke', [404, 403, 403]],
    ['POST', '/api/check', [200, 200, 403]],
    ['POST', '/api/events', [400, 400, 403]],
    // What nobody has thought of yet is the brewer's alone.
    ['POST', '/api/not-built-yet', [404, 403, 403]],
    ['DELETE', '/api/events', [404, 403, 403]],
    ['PUT', '/api/kits', [404, 403, 403]],
  ] as const)('%s %s', async (method, path, wanted) => {
    const statuses: number[] = [];
    for (const role of ['brewer', 'helper', 'viewer'] as const) {
      const answer = await fetch(local() + path, {
        method,
        headers: { ...cookie(role), 'content-type': 'application/json' },
        ...(method !== 'GET' && { body: '{}' }),
      });
      statuses.push(answer.status);
      if (answer.status === 403) {
        expect(await answer.json()).toMatchObject({ error: { code: 'not-your-role' } });
      }
    }
    expect(statuses).toEqual(wanted);
  });
});

async function lastOf({ url }: TestServer): Promise<number> {
  const answer = await fetch(`http://127.0.0.1:${new URL(url).port}/api/health`, {
    headers: cookie('brewer'),
  });
  return ((await answer.json()) as { last: number }).last;
}
