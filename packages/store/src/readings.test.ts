import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { KeptRow } from '@ladlework/log';
import Database from 'better-sqlite3';
import { afterEach, expect, it } from 'vitest';
import { openStore } from './open.ts';

const folder = mkdtempSync(join(tmpdir(), 'ladlework-readings-'));
const path = join(folder, 'log.sqlite');
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const row = (fromMs: number, last: number): KeptRow => ({
  probe: 'p',
  fromMs,
  toMs: fromMs + 9000,
  first: 62,
  last,
  low: 61.5,
  high: 62.5,
  readings: 10,
});

function opened() {
  const outcome = openStore(path);
  if (!outcome.ok) throw new Error(outcome.error.message);
  return outcome.store;
}

it('S12 what probes sent is kept beside the log, once, and cannot be changed', async () => {
  const store = opened();
  const rows = [row(0, 62.1), row(10_000, 62.2), row(20_000, 62.3)];
  expect(await store.readings.keep(rows)).toEqual({ ok: true });
  // Sent again after a restart, with another guess at its end: the first stays.
  expect(await store.readings.keep([row(10_000, 99)])).toEqual({ ok: true });
  expect(await store.readings.kept({ probe: 'p', fromMs: 10_000, toMs: 20_000 })).toEqual(
    rows.slice(1),
  );
  expect(await store.readings.kept({ probe: 'p', fromMs: 0, toMs: 1e9, limit: 1 })).toEqual([
    rows[0],
  ]);
  expect(await store.readings.kept({ probe: 'other', fromMs: 0, toMs: 1e9 })).toEqual([]);
  expect(await store.last()).toBe(0);
  await store.close();

  const again = opened();
  expect(await again.readings.kept({ probe: 'p', fromMs: 0, toMs: 1e9 })).toEqual(rows);
  expect(await again.check()).toEqual({ ok: true, events: 0 });
  await again.close();
  const db = new Database(path);
  expect(() => db.exec('UPDATE probe_row SET last = 0')).toThrow('append-only');
  expect(() => db.exec('DELETE FROM probe_row')).toThrow('append-only');
  db.close();
});
