import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { type Device, openDevice } from './page.ts';

let stage: Stage;
let clock: BrewhouseClock;
let device: Device;
let page: Page;
let maren: Brewer;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  device = await openDevice(stage.browser, 'tablet-wide');
  page = device.page;
  await clock.join(page);
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption('Weir Gold');
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  await page.getByRole('button', { name: 'Start the day' }).click();
  maren = await brewer(page, clock);
  await page.getByRole('status').getByText('everything is on the server').waitFor();
  // Nothing the server says is written to disk from here on.
  await page.context().setOffline(true);
  await maren.playUntil((card) => card.button === 'Mashed in');
});
afterAll(() => stage?.end());

/** What is on the tablet's disk: how many events, the newest counter, how many wait. */
const onDisk = () =>
  page.evaluate(
    () =>
      new Promise<{ events: number; outbox: number; counter: number }>((resolve, reject) => {
        const opening = indexedDB.open('ladlework');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const tx = opening.result.transaction(['events', 'outbox', 'meta']);
          const events = tx.objectStore('events').count();
          const outbox = tx.objectStore('outbox').count();
          const counter = tx.objectStore('meta').get('counter');
          tx.oncomplete = () => {
            opening.result.close();
            resolve({
              events: events.result,
              outbox: outbox.result,
              counter: Number(counter.result),
            });
          };
        };
      }),
  );

describe('a tap that writes several entries', () => {
  it('that fails half-way leaves nothing behind, and the page says so', async () => {
    keepFaults('half-a-tap', page);
    const before = await onDisk();
    await page.evaluate(() => {
      const put = IDBObjectStore.prototype.put;
      let events = 0;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...args) {
        // The disk is full when the second entry of the tap is to be written.
        if (this.name === 'events' && ++events === 2) {
          IDBObjectStore.prototype.put = put;
          throw new DOMException('no room left', 'QuotaExceededError');
        }
        return put.apply(this, args);
      };
    });
    await page.getByRole('button', { name: 'Mashed in', exact: true }).click();
    await page
      .getByRole('alert')
      .getByText(/no room left/)
      .waitFor();
    expect(await onDisk()).toEqual(before);
    expect((await maren.card())?.button).toBe('Mashed in');
    expect(device.faults().filter((fault) => fault.startsWith('thrown'))).toEqual([]);
  });

  it('is one transaction, written through', async () => {
    keepFaults('one-tap', page);
    const before = await onDisk();
    await page.evaluate(() => {
      const transaction = IDBDatabase.prototype.transaction;
      const seen: string[] = [];
      Object.assign(globalThis, { seen });
      IDBDatabase.prototype.transaction = function (this: IDBDatabase, stores, mode, options) {
        if (mode === 'readwrite') seen.push(`${[stores].flat().join()} ${options?.durability}`);
        return transaction.call(this, stores, mode, options);
      };
    });
    await maren.next();
    const after = await onDisk();
    // Mashed in, and the rest that begins by itself.
    expect(after).toEqual({
      events: before.events + 2,
      outbox: before.outbox + 2,
      counter: before.counter + 2,
    });
    expect(await page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen)).toEqual([
      'events,outbox,meta strict',
    ]);
  });

  it('is undone as one, too', async () => {
    keepFaults('one-undo', page);
    const before = await onDisk();
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await page.getByRole('button', { name: 'Mashed in', exact: true }).waitFor();
    expect(await onDisk()).toMatchObject({ events: before.events + 2 });
    expect(
      await page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen),
    ).toHaveLength(2);
  });
});
