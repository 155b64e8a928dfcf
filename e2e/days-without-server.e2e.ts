import type { LogEvent } from '@ladlework/log';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brewer, brewer, type Tap } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { type PlannedMove, serverLog, tapsIn } from './log-check.ts';
import { type Device, keepPicture, openDevice } from './page.ts';

const BEER = 'Weir Gold';
const onServer = 'everything is on the server';

/** Plans the beer, and gives the address of the brew. */
async function planned(page: Page, url: string): Promise<string> {
  await page.goto(`${url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  return new URL(page.url()).hash;
}

const status = (page: Page, text: string | RegExp) =>
  page.getByRole('status').getByText(text).waitFor();

describe('a brewhouse whose server dies the evening before', () => {
  let stage: Stage;
  let clock: BrewhouseClock;
  let tablet: Device;
  let hash: string;
  const taps: Tap[] = [];

  beforeAll(async () => {
    stage = await setStage();
    clock = brewhouseClock(nextMorningMs());
    tablet = await openDevice(stage.browser, 'tablet-wide');
    await clock.join(tablet.page);
  });
  afterAll(() => stage?.end());

  it('has planned the day, and the page is on the tablet', async () => {
    const { page } = tablet;
    keepFaults('dead-plan', page);
    hash = await planned(page, stage.server.url);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await status(page, onServer);
    await stage.server.kill();
    await clock.pass(12 * 60);
    tablet.forgiveFaults();
  });

  it('opens the page in the morning, starts the day, and goes on through a reload', async () => {
    const { page } = tablet;
    keepFaults('dead-morning', page);
    await page.reload();
    await page.getByRole('button', { name: 'Start the day' }).click();
    const maren = await brewer(page, clock);
    await maren.playUntil((card) => card.what.startsWith('Rest') && card.button === 'Done');
    await maren.read('64.8');
    await page.reload();
    await status(page, /^no network since .*, \d+ entries kept here$/);
    const again = await brewer(page, clock);
    await again.playUntil((card) => card.what.startsWith('Return'));
    taps.push(...maren.taps, ...again.taps);
    await keepPicture(page, 'journey-no-server-day');
  });

  it('shuts the page, opens it again, and brews to the end', async () => {
    keepFaults('dead-reopened', tablet.page);
    const context = tablet.page.context();
    await tablet.page.close();
    const page = await context.newPage();
    await page.goto(`${stage.server.url}/${hash.replace('/plan', '/day')}`);
    clock.follow(page);
    const maren = await brewer(page, clock);
    await maren.playToTheEnd();
    await maren.end();
    taps.push(...maren.taps);
    await page.getByRole('heading', { name: 'Every entry' }).waitFor();
    tablet = { ...tablet, page };
  });

  it('still has all of it two days later', async () => {
    const { page } = tablet;
    keepFaults('dead-days', page);
    await clock.pass(2 * 24 * 60);
    await page.reload();
    await page.getByRole('heading', { name: 'Every entry' }).waitFor();
    await status(page, /^no network since .*, \d+ entries kept here$/);
    const waiting = Number(
      /(\d+) entries/.exec((await page.getByRole('status').textContent()) ?? '')?.[1],
    );
    expect(waiting).toBeGreaterThan(40);
  });

  it('gives it to the server when that is back: the log is what was tapped, each entry once', async () => {
    const { page } = tablet;
    keepFaults('dead-back', page);
    await stage.server.restart();
    await clock.pass(1);
    await status(page, onServer);
    const log = await serverLog(stage.server.url);
    const brew = log.map(({ event }) => event).filter((e) => e.stream.startsWith('brew:'));
    expect(brew.map((e) => e.counter)).toEqual(brew.map((_, i) => i + 1));
    const [plan, start, ...rest] = brew as [LogEvent, LogEvent, ...LogEvent[]];
    if (plan.type !== 'brew-planned') throw new Error(`the brew begins with a ${plan.type}`);
    expect(start.type).toBe('brew-started');
    const moves: PlannedMove[] = plan.data.planSummary.moves.map((m) => ({ ...m, what: m.id }));
    // Just after a reload the card has shorter words for a move; what was done to it is the same.
    const bare = (tap: Tap) => ('what' in tap ? { ...tap, what: '' } : tap);
    expect(tapsIn(rest, moves).map(bare)).toEqual(taps.map(bare));
    for (const type of ['move-begun', 'move-done'] as const) {
      const marked = rest.flatMap((e) => (e.type === type ? [e.data.moveId] : []));
      expect(marked.toSorted()).toEqual(moves.map((m) => m.id).toSorted());
    }
    // The server was there when the day was planned. Opened again without it, the page says that
    // nobody has confirmed its clock since.
    expect(plan.clock?.errorMs).toBeDefined();
    for (const event of [start, ...rest]) {
      expect(event.clock).toBeDefined();
      expect(event.clock?.errorMs).toBeUndefined();
      expect(Math.abs(event.clock?.offsetMs ?? Number.NaN)).toBeLessThan(5000);
    }
  });
});

describe.each(['tablet', 'phone'] as const)(
  'a tablet and a phone, a morning without server, when the %s is back first',
  (first) => {
    let stage: Stage;
    let clock: BrewhouseClock;
    let tablet: Device;
    let phone: Device;
    let maren: Brewer;
    let tobias: Brewer;

    beforeAll(async () => {
      stage = await setStage();
      clock = brewhouseClock(nextMorningMs());
      tablet = await openDevice(stage.browser, 'tablet-wide');
      phone = await openDevice(stage.browser, 'phone');
      await clock.join(tablet.page);
      // The phone's own clock is seven minutes slow, and its brewer does not know.
      await clock.join(phone.page, -7 * 60_000);
    });
    afterAll(() => stage?.end());

    it('both log without knowing of each other', async () => {
      keepFaults(`order-${first}`, tablet.page, phone.page);
      const hash = await planned(tablet.page, stage.server.url);
      await tablet.page.getByRole('button', { name: 'Start the day' }).click();
      maren = await brewer(tablet.page, clock);
      await maren.playUntil((card) => card.what.startsWith('Rest') && card.button === 'Done');
      await status(tablet.page, onServer);
      await phone.page.goto(`${stage.server.url}/${hash.replace('/plan', '/day')}`);
      await phone.page.getByRole('button', { name: 'H Tobias' }).click();
      tobias = await brewer(phone.page, clock);
      await status(phone.page, /this device’s clock is 7 min slow; times are mended/);
      for (const device of [tablet, phone]) {
        await device.page.context().setOffline(true);
        device.forgiveFaults();
      }
      await clock.pass(4);
      await maren.read('63.4');
      await clock.pass(1);
      // Another value for the same box within the same minute or two.
      await tobias.read('60.2');
      await clock.pass(5);
      await maren.note('Lid was off');
      await clock.pass(2);
      await tobias.note('Lid back on');
      for (const { page } of [tablet, phone]) await status(page, /, 2 entries kept here$/);
    });

    it('come back one after the other, and show one record, both values in it', async () => {
      keepFaults(`order-${first}-back`, tablet.page, phone.page);
      const order = first === 'tablet' ? [tablet, phone] : [phone, tablet];
      for (const device of order) {
        await device.page.context().setOffline(false);
        await status(device.page, onServer);
      }
      const records: string[][] = [];
      for (const { page } of [tablet, phone]) {
        await page.getByRole('listitem').filter({ hasText: 'Lid was off' }).waitFor();
        await page.getByRole('listitem').filter({ hasText: 'Lid back on' }).waitFor();
        await page.getByText(/60\.2 °C \(H, 07:\d\d\) counts, being the later/).waitFor();
        await page.getByRole('link', { name: 'Record' }).click();
        const table = page.getByRole('table', { name: /^Boxes carry the codes/ });
        await table.waitFor();
        const rows = table.getByRole('row').filter({ has: page.getByRole('rowheader') });
        records.push(await rows.allTextContents());
      }
      expect(records[1]).toEqual(records[0]);
      const entries = (records[0] ?? []).filter((row) => /^[RN]\d/.test(row));
      // In the order in which things were true, though one clock was slow.
      expect(entries.map((row) => /63\.4|60\.2|Lid was off|Lid back on/.exec(row)?.[0])).toEqual([
        '63.4',
        '60.2',
        'Lid was off',
        'Lid back on',
      ]);
      const log = (await serverLog(stage.server.url)).map(({ event }) => event);
      const offs = log.flatMap((e) => (e.type === 'reading' ? [e.clock?.offsetMs ?? 0] : []));
      expect(offs.map((ms) => Math.round(ms / 60_000)).toSorted()).toEqual([0, 7]);
      const arrived = log.flatMap((e) => (e.type === 'note' ? [e.data.text] : []));
      const [own, other] = ['Lid was off', 'Lid back on'];
      expect(arrived).toEqual(first === 'tablet' ? [own, other] : [other, own]);
    });

    it('the brewer lets the other value count, and both pages say so', async () => {
      keepFaults(`order-${first}-chosen`, tablet.page, phone.page);
      await keepPicture(tablet.page, `two-values-${first}`);
      await tablet.page.getByRole('button', { name: 'Let 63.4 °C of B count' }).click();
      for (const { page } of [tablet, phone]) {
        await page.getByText(/63\.4 °C \(B, 07:\d\d\) counts, said B/).waitFor();
        await page
          .getByRole('row')
          .filter({ hasText: '60.2' })
          .getByText(/passed over/)
          .waitFor();
      }
    });

    it('a clock set back by hand while offline is noticed and made good', async () => {
      keepFaults(`order-${first}-set`, tablet.page);
      const { page } = tablet;
      await page.getByRole('link', { name: 'Day', exact: true }).click();
      await page.context().setOffline(true);
      await clock.pass(3);
      await page.clock.setSystemTime(clock.nowMs() - 45 * 60_000);
      await clock.pass(1);
      await status(page, /this device’s clock is 45 min slow; times are mended/);
      await maren.note('After the clock was set');
      await page.context().setOffline(false);
      await status(page, onServer);
      const log = (await serverLog(stage.server.url)).map(({ event }) => event);
      const note = log.find((e) => e.type === 'note' && e.data.text.startsWith('After'));
      expect(Math.abs((note?.readAtMs ?? 0) - clock.nowMs())).toBeLessThan(60_000);
      expect(Math.round((note?.clock?.offsetMs ?? 0) / 60_000)).toBe(45);
    });
  },
);
