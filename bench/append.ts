/** How long a reading waits until it is on disk, and how long ten years of brews take to open. */
import { closeSync, fsyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { Agent, request } from 'node:http';
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

/** Acknowledgement times [ms] of many tablets, each once a second, over HTTP in this process. */
async function brewery(folder: string): Promise<Ratio> {
  const server = await startServer({ dbPath: join(folder, 'http.sqlite'), webRoot: folder });
  if (!server.ok) throw new Error(server.message);
  const agent = new Agent({ keepAlive: true, maxSockets: TABLETS });
  const times: number[] = [];
  const send = (event: LogEvent) =>
    new Promise<void>((resolve, reject) => {
      const started = performance.now();
      const outgoing = request(
        `${server.url}/api/events`,
        { method: 'POST', agent, headers: { 'content-type': 'application/json' } },
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
        await send(tablet.wait(1 / 60).temp(62));
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
    what: `${TABLETS} tablets at 1 Hz, 99 % acknowledged within`,
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
      await brewery(folder),
      ...(await tenYears(folder)),
    ]),
};
