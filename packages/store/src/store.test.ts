/** Rules every store keeps. A new kind of store joins the list and adds nothing else. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { foldBrew, type LogEvent } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openStore } from './open.ts';
import type { EventStore } from './store.ts';

interface Subject {
  readonly name: string;
  /** A store at a place in a folder; the same place opens the same log. */
  open(folder: string): EventStore;
}

const STORES: readonly Subject[] = [
  {
    name: 'sqlite',
    open(folder) {
      const outcome = openStore(join(folder, 'log.sqlite'));
      if (!outcome.ok) throw new Error(outcome.error.message);
      return outcome.store;
    },
  },
];

describe.each(STORES)('$name', (subject) => {
  let folder: string;
  let store: EventStore;

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'ladlework-store-'));
    store = subject.open(folder);
  });
  afterEach(async () => {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const reopen = async () => {
    await store.close();
    store = subject.open(folder);
  };

  it('S1 what was acknowledged is there after opening again', async () => {
    const b = new Tablet('t1', 'B');
    const events = [b.temp(62), b.wait(1).temp(61.5)];
    const outcome = await store.append(events);
    expect(outcome).toEqual({
      ok: true,
      outcomes: events.map((e, n) => ({ ok: true, id: e.id, seq: n + 1, fresh: true })),
    });
    await reopen();
    expect(await store.since(0)).toEqual(events.map((event, n) => ({ seq: n + 1, event })));
  });

  it('S3 sending again changes nothing and answers with the first number', async () => {
    const event = new Tablet('t1', 'B').temp(62);
    await store.append([event]);
    const turned = Object.fromEntries(Object.entries(event).reverse()) as typeof event;
    expect(await store.append([turned, event])).toEqual({
      ok: true,
      outcomes: [
        { ok: true, id: event.id, seq: 1, fresh: false },
        { ok: true, id: event.id, seq: 1, fresh: false },
      ],
    });
    expect(await store.last()).toBe(1);
  });

  it('S4 another content under a known id is refused, the rest of the batch is saved', async () => {
    const b = new Tablet('t1', 'B');
    const event = b.temp(62);
    const good = b.temp(63);
    await store.append([event]);
    const outcome = await store.append([{ ...event, who: 'H' }, good]);
    expect(outcome).toEqual({
      ok: true,
      outcomes: [
        { ok: false, id: event.id, code: 'other-content' },
        { ok: true, id: good.id, seq: 2, fresh: true },
      ],
    });
    expect((await store.since(0)).map((s) => s.event)).toEqual([event, good]);
  });

  it('S5 numbers have no gaps, whatever was repeated or refused between', async () => {
    const b = new Tablet('t1', 'B');
    const events = [1, 2, 3, 4].map((n) => b.temp(60 + n));
    const [one, two, three, four] = events as [LogEvent, LogEvent, LogEvent, LogEvent];
    await Promise.all([
      store.append([one, two]),
      store.append([two, { ...one, who: 'H' } as LogEvent]),
      store.append([three]),
    ]);
    await reopen();
    await store.append([four]);
    expect((await store.since(0)).map((s) => s.seq)).toEqual([1, 2, 3, 4]);
    expect(await store.last()).toBe(4);
  });

  it('reads on after a number, by stream, and no more than asked', async () => {
    const brew = new Tablet('t1', 'B', 'brew:b1');
    const kit = new Tablet('t2', 'B', 'kit:k1');
    const events = [brew.temp(62), kit.write('kit-retired', {}), brew.temp(61)];
    await store.append(events);
    const seqs = async (...args: Parameters<EventStore['since']>) =>
      (await store.since(...args)).map((s) => s.seq);
    expect(await seqs(1)).toEqual([2, 3]);
    expect(await seqs(0, { stream: 'brew:b1' })).toEqual([1, 3]);
    expect(await seqs(1, { stream: 'brew:b1' })).toEqual([3]);
    expect(await seqs(0, { limit: 2 })).toEqual([1, 2]);
    expect(await seqs(3)).toEqual([]);
    expect(await store.streams()).toEqual([
      { stream: 'brew:b1', events: 2, lastSeq: 3 },
      { stream: 'kit:k1', events: 1, lastSeq: 2 },
    ]);
  });

  it('an empty log is an empty log', async () => {
    expect(await store.last()).toBe(0);
    expect(await store.since(0)).toEqual([]);
    expect(await store.streams()).toEqual([]);
    expect(await store.check()).toEqual({ ok: true, events: 0 });
    expect(await store.append([])).toEqual({ ok: true, outcomes: [] });
  });

  it('S7 a backup holds the whole log, opens by itself, and overwrites nothing', async () => {
    const b = new Tablet('t1', 'B');
    const events = Array.from({ length: 200 }, (_, n) => b.wait(1).temp(60 + n / 100));
    await store.append(events);
    const copy = join(folder, 'copy', 'log.sqlite');
    expect((await store.backup(copy)).ok).toBe(false); // no such folder
    const place = join(folder, 'copy.sqlite');
    expect(await store.backup(place)).toEqual({ ok: true, events: 200 });
    const again = await store.backup(place);
    expect(again.ok ? '' : again.message).toContain('is there already');
    const opened = openStore(place);
    if (!opened.ok) throw new Error(opened.error.message);
    expect((await opened.store.since(0)).map((s) => s.event)).toEqual(events);
    await opened.store.close();
  });

  it('two tablets a day offline: whatever arrives in whatever order, one state', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.boolean(), { minLength: 4, maxLength: 30 }), async (turns) => {
        const own = mkdtempSync(join(folder, 'run-'));
        const fresh = subject.open(own);
        const b = new Tablet('t1', 'B');
        const h = new Tablet('t2', 'H').wait(-45);
        const [mine, theirs]: [LogEvent[], LogEvent[]] = [[], []];
        for (const turn of turns) {
          if (turn) mine.push(b.wait(3).temp(62));
          else theirs.push(h.wait(2).temp(61));
        }
        for (const turn of turns) await fresh.append(turn ? mine : theirs);
        await fresh.append([...theirs, ...mine]);
        const stored = (await fresh.since(0)).map((s) => s.event);
        expect(stored).toHaveLength(turns.length);
        expect(foldBrew(stored, 'b1')).toEqual(foldBrew([...mine, ...theirs], 'b1'));
        await fresh.close();
      }),
      { numRuns: 10 },
    );
  });
});
