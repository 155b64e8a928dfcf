import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { serverLog } from './log-check.ts';
import { type Device, keepPicture, openDevice } from './page.ts';

/** One pull, three pots side by side, buckets: work for two. */
const BEER = 'Weir Gold';

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let phone: Device;
let maren: Brewer;
let tobias: Brewer;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  tablet = await openDevice(stage.browser, 'tablet');
  phone = await openDevice(stage.browser, 'phone');
  await clock.join(tablet.page);
  await clock.join(phone.page);
});

afterAll(() => stage?.end());

const onServer = 'everything is on the server';

describe('a tablet in the brewhouse and a phone in a pocket', () => {
  it('stand at the same move, and what is tapped on one comes up on the other', async () => {
    keepFaults('two-follow', tablet.page, phone.page);
    await tablet.page.goto(stage.server.url);
    await tablet.page.getByRole('button', { name: `Plan ${BEER}`, exact: true }).click();
    await tablet.page.getByRole('button', { name: 'Plan it' }).click();
    await tablet.page.getByText('This kit can do it.').waitFor();
    await tablet.page.getByRole('button', { name: 'Start the day' }).click();
    maren = await brewer(tablet.page, clock);

    await phone.page.goto(stage.server.url);
    await phone.page.getByRole('link', { name: /you are here/ }).click();
    await phone.page.getByRole('button', { name: 'H Tobias' }).click();
    tobias = await brewer(phone.page, clock);
    const what = (await maren.card())?.what ?? '';
    await phone.page
      .getByRole('region', { name: 'Now' })
      .getByText(what, { exact: true })
      .waitFor();

    await maren.next();
    await phone.page.getByRole('button', { name: 'Filled', exact: true }).waitFor();
    await tobias.next();
    await tablet.page.getByRole('button', { name: 'Filled', exact: true }).waitFor({
      state: 'detached',
    });
    await tablet.page
      .getByRole('listitem')
      .filter({ hasText: /H Fill .*: done/ })
      .waitFor();
    expect(tobias.taps.length + maren.taps.length).toBe(2);
  });

  it('each keep what is entered while neither reaches the server', async () => {
    keepFaults('two-offline', tablet.page, phone.page);
    await maren.playUntil((card) => card.what.startsWith('Rest') && card.button === 'Done');
    await tablet.page.getByRole('status').getByText(onServer).waitFor();
    await phone.page.getByRole('button', { name: 'Done', exact: true }).first().waitFor();
    for (const device of [tablet, phone]) {
      await device.page.context().setOffline(true);
      device.forgiveFaults();
    }
    await clock.pass(5);
    await maren.read('63.6');
    await clock.pass(2);
    await tobias.read('62.9');
    await clock.pass(2);
    await maren.read('63.1');
    await tobias.note('Lid was off');
    await tablet.page
      .getByRole('status')
      .getByText(/, 2 entries kept here$/)
      .waitFor();
    await phone.page
      .getByRole('status')
      .getByText(/, 2 entries kept here$/)
      .waitFor();
    await keepPicture(phone.page, 'journey-offline-phone');
    expect(await phone.page.getByRole('listitem').filter({ hasText: '63.1' }).count()).toBe(0);
  });

  it('both mark the same rest done without knowing of each other', async () => {
    keepFaults('two-conflict', tablet.page, phone.page);
    await maren.next();
    await clock.pass(3);
    await tobias.next();
    await phone.page
      .getByRole('status')
      .getByText(/, [3-9] entries kept here$/)
      .waitFor();
  });

  it('show one and the same record once both are back', async () => {
    keepFaults('two-record', tablet.page, phone.page);
    for (const device of [tablet, phone]) {
      await device.page.context().setOffline(false);
    }
    for (const device of [tablet, phone]) {
      await device.page.getByRole('status').getByText(onServer).waitFor();
      device.forgiveFaults();
    }
    await tablet.page.getByRole('listitem').filter({ hasText: 'Lid was off' }).waitFor();
    await phone.page.getByRole('listitem').filter({ hasText: 'H Mash tun 62.9' }).waitFor();
    await phone.page.getByRole('listitem').filter({ hasText: 'B Mash tun 63.1' }).waitFor();
    const records = [];
    for (const { page } of [tablet, phone]) {
      await page.getByRole('link', { name: 'Record' }).click();
      const table = page.getByRole('table', { name: /^Boxes carry the codes/ });
      await table.waitFor();
      const boxes = table.getByRole('row').filter({ has: page.getByRole('rowheader') });
      records.push(await boxes.allTextContents());
    }
    expect(records[1]).toEqual(records[0]);
    const readings = (records[0] ?? []).filter((row) => /^R\d/.test(row));
    expect(readings.map((row) => /\d+\.\d °C/.exec(row)?.[0])).toEqual([
      '63.6 °C',
      '62.9 °C',
      '63.1 °C',
    ]);
    await keepPicture(tablet.page, 'journey-two-record');
    expect([...tablet.faults(), ...phone.faults()]).toEqual([]);
  });

  it('have every entry in the log once, by its device and in the device’s own order', async () => {
    const log = await serverLog(stage.server.url);
    const brew = log.map(({ event }) => event).filter((e) => e.stream.startsWith('brew:'));
    expect(new Set(brew.map((e) => e.id)).size).toBe(brew.length);
    const devices = [...new Set(brew.map((e) => e.device))];
    expect(devices).toHaveLength(2);
    for (const device of devices) {
      const counters = brew.filter((e) => e.device === device).map((e) => e.counter);
      expect(counters).toEqual(counters.map((_, i) => i + 1));
    }
    const typed = brew.flatMap((e) => (e.type === 'reading' ? [[e.who, e.data.text]] : []));
    expect(typed.toSorted()).toEqual([
      ['B', '63.1'],
      ['B', '63.6'],
      ['H', '62.9'],
    ]);
  });
});
