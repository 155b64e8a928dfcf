/** How long a reading waits until it is on disk, and how long ten years of brews take to open. */
import { createHash, randomBytes } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { Agent, request } from 'node:http';
import { Agent as SecureAgent, request as secureRequest } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { canonicalJson, type LogEvent } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import { startServer } from '@ladlework/server';
import { openStore } from '@ladlework/store';
import { type Bench, compare, type Ratio } from './support/measure.ts';

const TABLETS = 200;
const SECONDS = 8;
/** Sixty brews a year, ten years, and what a day writes. */
const BREWS = 600;
const EVENTS_A_BREW = 300;

/** A share of a sorted list. */
const at = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;

function inFolder<T>(run: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'ladlework-bench-'));
  return run(folder).finally(() => rmSync(folder, { recursive: true, force: true }));
}

function opened(path: string) {
  const outcome = openStore(path);
  if (!outcome.ok) throw new Error(outcome.error.message);
  return outcome.store;
}

/** One append against the least a disk can do: the same bytes written and synced. */
function oneReading(folder: string): Promise<Ratio> {
  const store = opened(join(folder, 'log.sqlite'));
  const tablet = new Tablet('t1', 'B');
  const file = openSync(join(folder, 'plain'), 'a');
  const line = canonicalJson(tablet.temp(62));
  return compare(
    { what: 'one reading on disk', run: () => store.append([tablet.wait(1).temp(62)]) },
    {
      what: 'write and fsync',
      run: () => {
        writeSync(file, line);
        fsyncSync(file);
      },
    },
  ).finally(async () => {
    closeSync(file);
    await store.close();
  });
}

/** A list of paired devices as the server keeps it, and the token of each. */
function pairedDevices(path: string): string[] {
  const tokens = Array.from({ length: TABLETS }, () => randomBytes(32).toString('base64url'));
  const devices = tokens.map((token, n) => ({
    id: `t${n}`,
    name: `Tablet ${n}`,
    role: 'helper',
    token: createHash('sha256').update(token).digest('hex'),
    pairedAtMs: n,
    lastSeenMs: n,
    secure: true,
  }));
  writeFileSync(path, JSON.stringify({ devices }));
  return tokens;
}

/**
 * Acknowledgement times [ms] of many tablets, each once a second, in this process.
 *
 * @param secure by https, each with its own token and as a helper; else by http from the machine
 *   itself
 */
async function brewery(folder: string, secure: boolean): Promise<Ratio> {
  const dbPath = join(folder, secure ? 'https.sqlite' : 'http.sqlite');
  const tokens = secure ? pairedDevices(`${dbPath}.devices`) : [];
  const server = await startServer({ dbPath, webRoot: folder, pairAll: secure });
  if (!server.ok) throw new Error(server.message);
  const { port } = new URL(server.url);
  const options = { keepAlive: true, maxSockets: TABLETS };
  const ca = secure ? readFileSync(join(folder, 'authority', 'root.pem')) : '';
  const agent = secure ? new SecureAgent({ ...options, ca }) : new Agent(options);
  const ask = secure ? secureRequest : request;
  const times: number[] = [];
  const send = (event: LogEvent, token: string | undefined) =>
    new Promise<void>((resolve, reject) => {
      const started = performance.now();
      const headers = {
        'content-type': 'application/json',
        ...(token && { cookie: `__Host-ladlework-paired=${token}` }),
      };
      const outgoing = ask(
        `http${secure ? 's' : ''}://127.0.0.1:${port}/api/events`,
        { method: 'POST', agent, headers },
        (incoming) => {
          incoming.resume();
          incoming.on('end', () => {
            times.push(performance.now() - started);
            if (incoming.statusCode === 200) resolve();
            else reject(new Error(`answered ${incoming.statusCode}`));
          });
        },
      );
      outgoing.on('error', reject);
      outgoing.end(JSON.stringify({ events: [event] }));
    });
  const tablets = Array.from({ length: TABLETS }, (_, n) => new Tablet(`t${n}`, 'B'));
  await Promise.all(
    tablets.map(async (tablet, n) => {
      await new Promise((resolve) => setTimeout(resolve, (n * 1000) / TABLETS));
      for (let second = 0; second < SECONDS; second += 1) {
        const next = new Promise((resolve) => setTimeout(resolve, 1000));
        await send(tablet.wait(1 / 60).temp(62), tokens[n]);
        await next;
      }
    }),
  );
  agent.destroy();
  await server.close();
  times.sort((a, b) => a - b);
  const ms = at(times, 0.99);
  const note = `median ${at(times, 0.5).toFixed(1)} ms, worst ${at(times, 1).toFixed(1)} ms of ${times.length}`;
  return {
    what: `${TABLETS} tablets at 1 Hz by http${secure ? 's, paired' : ''}: 99 % acknowledged within`,
    ms,
    baseline: 'the target',
    baselineMs: 50,
    note,
  };
}

async function tenYears(folder: string): Promise<Ratio[]> {
  const path = join(folder, 'years.sqlite');
  const store = opened(path);
  for (let brew = 0; brew < BREWS; brew += 1) {
    const tablet = new Tablet(`t${brew}`, 'B', `brew:b${brew}`).wait(brew * 24 * 60);
    await store.append(Array.from({ length: EVENTS_A_BREW }, () => tablet.wait(2).temp(62)));
  }
  await store.close();
  const started = performance.now();
  const again = opened(path);
  const last = await again.last();
  const openMs = performance.now() - started;
  const oneBrew = performance.now();
  await again.since(0, { stream: `brew:b${BREWS / 2}` });
  const brewMs = performance.now() - oneBrew;
  await again.close();
  return [
    { what: `open a log of ${last} events`, ms: openMs, baseline: 'the target', baselineMs: 100 },
    { what: 'read one brew of it', ms: brewMs, baseline: 'the target', baselineMs: 100 },
  ];
}

export const bench: Bench = {
  about: 'readings acknowledged on disk, alone and from a full brewery; a log of ten years.',
  run: () =>
    inFolder(async (folder) => [
      await oneReading(folder),
      await brewery(folder, false),
      await brewery(folder, true),
      ...(await tenYears(folder)),
    ]),
};
