import { readFileSync } from 'node:fs';
import { appendFile, mkdtemp, open, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { LogEvent } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import { openStore } from '@ladlework/store';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { logFile } from '../house.ts';
import { ladlework, ladleworkJson } from '../testing.ts';

let folder: string;
let data: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'ladlework-log-'));
  data = join(folder, 'data');
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

/** A log of some notes; the events in it. */
async function someLog(count = 1200): Promise<LogEvent[]> {
  const opened = openStore(logFile(data));
  if (!opened.ok) throw new Error(opened.error.message);
  const tablet = new Tablet('tab-1', 'B');
  const events = Array.from({ length: count }, (_, i) =>
    tablet.wait(1).write('note', { text: `note ${i}` }),
  );
  const saved = await opened.store.append(events);
  expect(saved.ok).toBe(true);
  await opened.store.close();
  return events;
}

describe('verify', () => {
  it('counts a whole log', async () => {
    await someLog(3);
    const ran = await ladlework('verify', '--data', data);
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toMatch(/ladlework\.sqlite is whole: 3 events\.\n$/);
    expect(await ladleworkJson('verify', '--data', data)).toEqual({ ok: true, events: 3 });
  });

  it('ends with 2 where there is no log, and makes none', async () => {
    const ran = await ladlework('verify', '--data', data);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(
      /ladlework\.sqlite is not there\. Name the folder of the log with --data/,
    );
    await expect(readdir(data)).rejects.toThrow(/ENOENT/);
  });

  it('does not call a damaged log whole', async () => {
    await someLog();
    const file = await open(logFile(data), 'r+');
    const { size } = await file.stat();
    await file.write(Buffer.alloc(2048, 0x5a), 0, 2048, Math.floor(size / 2));
    await file.close();
    const ran = await ladlework('verify', '--data', data);
    expect(ran.code).not.toBe(0);
    expect(ran.out + ran.err).toMatch(/damaged|not whole/);
  });
});

describe('backup and restore', () => {
  it('a copy brings back every event, and overwrites nothing', async () => {
    await someLog();
    const backup = await ladleworkJson<{ file: string; events: number }>(
      'backup',
      join(folder, 'copies'),
      '--data',
      data,
    );
    expect(backup.events).toBe(1200);
    const again = await ladlework('restore', backup.file, '--data', data);
    expect(again.code).toBe(2);
    expect(again.err).toMatch(/is there and is not overwritten\. Move it away first\./);

    await rm(data, { recursive: true });
    const restored = await ladlework('restore', backup.file, '--data', data);
    expect(restored).toMatchObject({ code: 0, err: '' });
    expect(await ladleworkJson('verify', '--data', data)).toEqual({ ok: true, events: 1200 });
  });

  it('a copy that is not there is refused', async () => {
    const ran = await ladlework('restore', join(folder, 'none.sqlite'), '--data', data);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/none\.sqlite is not there\. Check the name\./);
  });
});

describe('export and import', () => {
  const lines = (text: string) =>
    text
      .trim()
      .split('\n')
      .map((l) => JSON.parse(l) as LogEvent);

  it('the text holds every event and makes the same log elsewhere, once', async () => {
    const events = await someLog();
    const out = await ladlework('export', '--data', data);
    expect(out.code).toBe(0);
    expect(lines(out.out)).toEqual(events);

    const file = join(folder, 'log.jsonl');
    const written = await ladlework('export', file, '--data', data);
    expect(written.out).toMatch(/log\.jsonl: 1200 events\.\n$/);
    expect(readFileSync(file, 'utf8')).toBe(out.out);
    const twice = await ladlework('export', file, '--data', data);
    expect(twice.code).toBe(2);
    expect(twice.err).toMatch(/cannot be written: EEXIST/);

    const other = join(folder, 'other');
    expect(await ladleworkJson('import', file, '--data', other)).toMatchObject({ taken: 1200 });
    expect(await ladleworkJson('import', file, '--data', other)).toMatchObject({
      taken: 0,
      known: 1200,
    });
    const back = await ladlework('export', '--data', other);
    expect(back.out).toBe(out.out);
  });

  it('takes nothing from a file with a mistake, and names the line', async () => {
    await someLog(2);
    const file = join(folder, 'log.jsonl');
    await ladlework('export', file, '--data', data);
    await appendFile(file, '{"id": "nonsense"}\n{"torn');
    const other = join(folder, 'other');
    const ran = await ladlework('import', file, '--data', other);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/log\.jsonl: line 3: /);
    expect(ran.err).toMatch(/log\.jsonl: line 4 is not JSON/);
    await expect(readdir(other)).rejects.toThrow(/ENOENT/);
  });

  it('keeps its own where an event comes with other content, and says so', async () => {
    const [first] = await someLog(1);
    const file = join(folder, 'log.jsonl');
    await writeFile(file, JSON.stringify({ ...first, data: { text: 'another' } }));
    const ran = await ladlework('import', file, '--data', data);
    expect(ran.code).toBe(1);
    expect(ran.err).toContain(`event ${first?.id} is in the log with other content`);
    const kept = await ladlework('export', '--data', data);
    expect(lines(kept.out)).toEqual([first]);
    expect(await readFile(file, 'utf8')).toContain('another');
  });
});
