import { spawn } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LogEvent } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { NEWEST_VERSION } from './migrations.ts';
import { openDatabase, openStore } from './open.ts';
import { SqliteStore } from './sqlite-store.ts';
import type { EventStore } from './store.ts';

let folder: string;
let path: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ladlework-faults-'));
  path = join(folder, 'log.sqlite');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function open(at = path): EventStore {
  const outcome = openStore(at);
  if (!outcome.ok) throw new Error(outcome.error.message);
  return outcome.store;
}

function database(): Database.Database {
  const outcome = openDatabase(path);
  if (!outcome.ok) throw new Error(outcome.error.message);
  return outcome.db;
}

function refusal(at = path) {
  const outcome = openStore(at);
  return outcome.ok ? undefined : outcome.error;
}

const note = (tablet: Tablet, length: number): LogEvent =>
  tablet.wait(1).write('note', { text: 'x'.repeat(length) });

it('S1 the file is in WAL with full sync', async () => {
  const db = database();
  expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
  expect(db.pragma('synchronous', { simple: true })).toBe(2);
  db.close();
});

it('S6 a program that opens the file itself can neither change nor remove an event', async () => {
  const store = open();
  await store.append([new Tablet('t1', 'B').temp(62)]);
  await store.close();
  const db = new Database(path);
  expect(() => db.exec("UPDATE event SET body = '{}'")).toThrow('append-only');
  expect(() => db.exec('DELETE FROM event')).toThrow('append-only');
  db.close();
});

it('S8 a full disk says not saved, keeps what was acknowledged, and takes up again with room', async () => {
  const db = database();
  const full = db.pragma('page_count', { simple: true }) as number;
  db.pragma(`max_page_count = ${full + 8}`);
  const store = new SqliteStore(db);
  const tablet = new Tablet('t1', 'B');
  const acknowledged: string[] = [];
  let refused: LogEvent | undefined;
  for (let n = 0; n < 200 && refused === undefined; n += 1) {
    const event = note(tablet, 1500);
    const outcome = await store.append([event]);
    if (outcome.ok) acknowledged.push(event.id);
    else {
      expect(outcome).toMatchObject({ code: 'not-saved', reason: 'disk-full' });
      refused = event;
    }
  }
  expect(acknowledged.length).toBeGreaterThan(3);
  if (refused === undefined) throw new Error('the disk never filled');
  const ids = async () => (await store.since(0)).map((s) => s.event.id);
  expect(await ids()).toEqual(acknowledged);
  expect((await store.check()).ok).toBe(true);

  // S2: of a batch of which the second does not fit, the first is not saved either.
  const small = tablet.temp(60);
  expect((await store.append([small, refused])).ok).toBe(false);
  expect(await ids()).toEqual(acknowledged);

  db.pragma('max_page_count = 100000');
  expect((await store.append([refused])).ok).toBe(true);
  expect(await ids()).toEqual([...acknowledged, refused.id]);
  await store.close();
});

it('S8 appends that share a sync are refused together, none is taken for saved', async () => {
  const db = database();
  db.pragma(`max_page_count = ${db.pragma('page_count', { simple: true }) as number}`);
  const store = new SqliteStore(db);
  const tablet = new Tablet('t1', 'B');
  const outcomes = await Promise.all([1, 2, 3].map(() => store.append([note(tablet, 20_000)])));
  expect(outcomes.map((o) => o.ok)).toEqual([false, false, false]);
  expect(await store.last()).toBe(0);
  await store.close();
});

it('S8 a log that may not be written says so', async () => {
  await open().close();
  const db = new Database(path, { readonly: true });
  const store = new SqliteStore(db);
  const outcome = await store.append([new Tablet('t1', 'B').temp(62)]);
  expect(outcome).toMatchObject({ ok: false, reason: 'read-only' });
  await store.close();
});

it('S9 killed again and again at any moment, every acknowledged event is there', async () => {
  const acknowledged: string[] = [];
  const script = fileURLToPath(new URL('./appender.testing.ts', import.meta.url));
  for (let round = 0; round < 5; round += 1) {
    const child = spawn(process.execPath, ['--import', 'tsx', script, path, `t${round}`]);
    let out = '';
    const trouble: string[] = [];
    child.stderr.on('data', (chunk) => trouble.push(String(chunk)));
    const closed = new Promise((resolve) => child.once('close', resolve));
    await new Promise<void>((resolve, reject) => {
      child.once('exit', () => reject(new Error(trouble.join('') || 'the child ended by itself')));
      child.stdout.on('data', (chunk) => {
        out += String(chunk);
        // Any moment after the first few: a different number of acknowledgements each round.
        if (out.split('\n').length > 10 + Math.random() * 60) resolve();
      });
    });
    child.kill('SIGKILL');
    await closed;
    // What stands in the pipe was written after the acknowledgement; a half line was not.
    acknowledged.push(...out.split('\n').slice(0, -1));
  }
  const store = open();
  const kept = new Set((await store.since(0)).map((s) => s.event.id));
  expect(acknowledged.length).toBeGreaterThan(50);
  expect(acknowledged.filter((id) => !kept.has(id))).toEqual([]);
  expect((await store.check()).ok).toBe(true);
  await store.close();
}, 60_000);

it('S10 a log torn off anywhere opens to a whole beginning of it', async () => {
  const store = open();
  const tablet = new Tablet('t1', 'B');
  const events = Array.from({ length: 40 }, () => note(tablet, 700));
  for (const event of events) await store.append([event]);
  // A copy of the running file and its write-ahead log is what a pulled plug leaves.
  const wal = statSync(`${path}-wal`).size;
  for (let n = 0; n < 12; n += 1) {
    const torn = join(folder, `torn-${n}.sqlite`);
    copyFileSync(path, torn);
    copyFileSync(`${path}-wal`, `${torn}-wal`);
    truncateSync(`${torn}-wal`, Math.floor((wal * n) / 12) + n);
    const reopened = open(torn);
    const kept = (await reopened.since(0)).map((s) => s.event);
    expect(kept).toEqual(events.slice(0, kept.length));
    expect((await reopened.check()).ok).toBe(true);
    expect((await reopened.append([note(new Tablet(`n${n}`, 'B'), 10)])).ok).toBe(true);
    await reopened.close();
  }
  await store.close();
});

it('S10 garbage at the end of the write-ahead log is not taken for events', async () => {
  const store = open();
  const tablet = new Tablet('t1', 'B');
  const events = Array.from({ length: 10 }, () => note(tablet, 700));
  for (const event of events) await store.append([event]);
  const torn = join(folder, 'torn.sqlite');
  copyFileSync(path, torn);
  const wal = readFileSync(`${path}-wal`);
  await store.close();
  wal.fill(0x5a, wal.length - 3000);
  writeFileSync(`${torn}-wal`, wal);
  const reopened = open(torn);
  const kept = (await reopened.since(0)).map((s) => s.event);
  expect(kept.length).toBeLessThan(events.length);
  expect(kept).toEqual(events.slice(0, kept.length));
  await reopened.close();
});

it('S11 a file whose pages are damaged is refused and left as it is', async () => {
  const store = open();
  const tablet = new Tablet('t1', 'B');
  await store.append(Array.from({ length: 200 }, () => note(tablet, 500)));
  await store.close();
  const bytes = readFileSync(path);
  bytes.fill(0xff, 4096, 4096 * 6);
  writeFileSync(path, bytes);
  expect(refusal()?.code).toBe('damaged');
  expect(refusal()?.message).toContain('restore the last backup');
  expect(readFileSync(path).equals(bytes)).toBe(true);
});

it('S11 a long log is read through when it was not closed, and by the check when it was', async () => {
  const store = open();
  const tablet = new Tablet('t1', 'B');
  for (let n = 0; n < 20; n += 1) await store.append([note(tablet, 1_000_000)]);
  await store.close();
  const bytes = readFileSync(path);
  expect(bytes.length).toBeGreaterThan(17_000_000);
  bytes.fill(0xff, 4096 * 2000, 4096 * 2010);
  writeFileSync(path, bytes);
  const closed = open();
  expect((await closed.check()).ok).toBe(false);
  await closed.close();
  const left = readFileSync(path);
  writeFileSync(`${path}-wal`, 'left by a killed server');
  expect(refusal()?.code).toBe('damaged');
  expect(readFileSync(path).equals(left)).toBe(true);
  expect(readFileSync(`${path}-wal`, 'utf8')).toBe('left by a killed server');
});

it('S11 a bit that flipped inside an event is found by the check', async () => {
  const store = open();
  await store.append([new Tablet('t1', 'B').write('note', { text: 'mash looked thin today' })]);
  await store.close();
  const bytes = readFileSync(path);
  const at = bytes.indexOf('thin today');
  expect(at).toBeGreaterThan(0);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  writeFileSync(path, bytes);
  const again = open();
  expect(await again.check()).toEqual({ ok: false, problems: ['event 1 is not what was written'] });
  await again.close();
});

it.each([
  ['text', 'not-a-database', 'damaged'],
  ['half a header', 'SQLite format 3\0', 'damaged'],
] as const)('S11 a file of %s is refused and left as it is', (_, content, code) => {
  writeFileSync(path, content.repeat(50));
  expect(refusal()?.code).toBe(code);
  expect(readFileSync(path, 'latin1')).toBe(content.repeat(50));
});

it('S11 a database of another program is refused', () => {
  const db = new Database(path);
  db.exec('CREATE TABLE recipes (name TEXT)');
  db.close();
  expect(refusal()?.code).toBe('not-ours');
});

it('S11 a log of a newer version is refused', async () => {
  await open().close();
  const db = new Database(path);
  db.pragma(`user_version = ${NEWEST_VERSION + 1}`);
  db.close();
  expect(refusal()?.code).toBe('too-new');
});

it('S11 a place where no file can be is told', () => {
  writeFileSync(join(folder, 'file'), '');
  expect(refusal(join(folder, 'file', 'log.sqlite'))?.code).toBe('cannot-open');
  expect(refusal(folder)?.code).toBe('cannot-open');
});

it('S7 a backup that fails leaves no half file', async () => {
  const store = open();
  await store.append([new Tablet('t1', 'B').temp(62)]);
  const place = join(folder, 'nowhere', 'copy.sqlite');
  expect((await store.backup(place)).ok).toBe(false);
  expect(existsSync(`${place}.part`)).toBe(false);
  await store.close();
});
