import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Tablet } from '@ladlework/log/testing';
import { startServer } from '@ladlework/server';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HOUSE } from '../house.ts';
import { ladlework } from '../testing.ts';
import { FaultyProbe, readFaults } from './faults.ts';

const FILE = join(HOUSE.examples, 'one-pull.json');

describe('faults', () => {
  const probe = (text: string) => {
    const faults = readFaults(text);
    if (!faults.ok) throw new Error(faults.error);
    return new FaultyProbe(faults.value, 7);
  };

  it('without any, what is so', () => {
    expect(probe('').shows(62.123, 10)).toBe(62.12);
  });

  it('offset, sticking, jumping out and dying, at their minutes', () => {
    const p = probe('dies@60,sticks@40,jumps@20,offset=1.5');
    expect(p.shows(62, 10)).toBe(63.5);
    expect(p.shows(62, 21)).toBe(19.5);
    expect(p.shows(62, 26)).toBe(63.5);
    expect(p.shows(61, 40)).toBe(62.5);
    expect(p.shows(55, 59)).toBe(62.5);
    expect(p.shows(55, 60)).toBeUndefined();
  });

  it('jitter stays within what was said, and the same seed wanders the same way', () => {
    const [a, b] = [probe('jitter=0.5'), probe('jitter=0.5')];
    const shown = Array.from({ length: 200 }, () => a.shows(62, 1) ?? 0);
    expect(Math.max(...shown)).toBeLessThanOrEqual(62.5);
    expect(Math.min(...shown)).toBeGreaterThanOrEqual(61.5);
    expect(new Set(shown).size).toBeGreaterThan(20);
    expect(Array.from({ length: 200 }, () => b.shows(62, 1))).toEqual(shown);
  });

  it('loses about the share it was told', () => {
    const p = probe('loses=0.3');
    const lost = Array.from({ length: 1000 }, () => p.shows(62, 1)).filter((x) => x === undefined);
    // 300 ± 14.5 of a binomial.
    expect(lost.length).toBeGreaterThan(240);
    expect(lost.length).toBeLessThan(360);
  });

  it.each(['sticks=4', 'offset@3', 'offset=99', 'melts@3', 'dies'])('%s is refused', (text) => {
    const faults = readFaults(text);
    expect(faults.ok ? '' : faults.error).toContain(text);
  });
});

describe('ladlework probe', () => {
  const folder = mkdtempSync(join(tmpdir(), 'ladlework-probe-'));
  let server: Extract<Awaited<ReturnType<typeof startServer>>, { ok: true }>;
  let token: string;
  beforeAll(async () => {
    const started = await startServer({
      dbPath: join(folder, 'log.sqlite'),
      webRoot: folder,
      mqtt: { own: { port: 0, host: '127.0.0.1' } },
      log: () => undefined,
    });
    if (!started.ok) throw new Error(started.message);
    server = started;
    const event = new Tablet('t', 'B', 'probe:p', Date.now()).write('probe-saved', {
      probe: {
        id: 'p',
        name: 'Tun probe',
        kit: 'k',
        vessel: 'tun',
        what: 'temp',
        unit: '°C',
        sd: 0.5,
        points: [],
        offset: 0,
        token: 1,
      },
    });
    await fetch(`${server.url}/api/events`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ events: [event] }),
    });
    token = (await access()).http.token;
  });
  afterAll(async () => {
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const access = async () =>
    (await (await fetch(`${server.url}/api/probes/p/access`)).json()) as {
      http: { token: string };
      mqtt: { port: number };
    };
  const rows = async () =>
    (
      (await (await fetch(`${server.url}/api/probes/p/readings`)).json()) as {
        rows: { first: number; last: number; readings: number }[];
      }
    ).rows;
  const run = (...more: string[]) =>
    ladlework('probe', FILE, '--probe', 'p', '--token', token, '--to', server.url, ...more);

  it('sends what it kept while it was cut off, in batches with their times', async () => {
    const ran = await run('--late', '90', '--minutes', '89', '--every', '10', '--json');
    expect(ran.err).toBe('');
    expect(ran.code).toBe(0);
    const { sent } = JSON.parse(ran.out) as { sent: number };
    expect(sent).toBe(535);
    const kept = await rows();
    expect(kept.reduce((sum, r) => sum + r.readings, 0)).toBe(535);
    // It was mashed in meanwhile: the tun went from cold to a rest.
    expect(Math.max(...kept.map((r) => r.last))).toBeGreaterThan(50);
  });

  it('sends to a broker as well', async () => {
    const { mqtt } = await access();
    const before = (await rows()).length;
    const ran = await run(
      ...['--mqtt', `mqtt://127.0.0.1:${mqtt.port}`, '--at', '60', '--minutes', '1'],
      ...['--every', '20', '--speed', '600'],
    );
    expect(ran.err).toBe('');
    expect(ran.out).toContain('4 readings of');
    expect((await rows()).length).toBeGreaterThan(before);
  });

  it('tells what is wrong', async () => {
    expect(await run('--vessel', 'bath')).toMatchObject({ code: 2 });
    expect(await run('--faults', 'melts@3')).toMatchObject({ code: 2 });
    const wrong = await ladlework(
      ...['probe', FILE, '--probe', 'p', '--token', 'x', '--to', server.url, '--speed', '600'],
    );
    expect(wrong.code).toBe(1);
    expect(wrong.err).toContain('not its token');
  });
});
