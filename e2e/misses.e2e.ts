import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { serverLog } from './log-check.ts';
import { faintText, sticksOut, targetFaults } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES } from './page.ts';

const BEER = 'Millrace Lager';
const KIT = 'Hollin Weir, three barrels, kettle is liquor tank';

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let page: Page;
let maren: Brewer;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  tablet = await openDevice(stage.browser, 'tablet-wide');
  page = tablet.page;
  await clock.join(page);
});

afterAll(() => stage?.end());

const wrong = () => page.getByRole('button', { name: 'Something went wrong' });
const sheet = () => page.getByRole('region', { name: 'What went wrong' });
const ways = () => page.getByRole('region', { name: 'Ways out of it' });

/** Tells a miss in two taps and waits until every way is worked out. */
async function tell(what: RegExp) {
  await wrong().click();
  await sheet().getByRole('button', { name: what }).first().click();
  await ways().waitFor();
  await page.locator('.ways[aria-busy="false"] .way').first().waitFor();
}

const eventsOf = async (type: string) =>
  (await serverLog(stage.server.url)).filter((e) => e.event.type === type);

/** One day with a miss at each return, told in chapters. */
describe('a day on which things go wrong', () => {
  it('begins', async () => {
    keepFaults('misses-begin', page);
    await page.goto(stage.server.url);
    await page.getByRole('button', { name: `Plan ${BEER}` }).click();
    await page.getByRole('combobox', { name: 'Kit' }).selectOption(KIT);
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByText('This kit can do it. 2 pulls, mash over at').waitFor();
    await page.getByRole('navigation').getByRole('link', { name: 'Today' }).click();
    await page.getByRole('link', { name: new RegExp(BEER) }).click();
    await page.getByRole('button', { name: 'Start the day' }).click();
    maren = await brewer(page, clock);
    await maren.card();
  });

  it('mash is spilled before the first return: how long it is safe, and ways to cast-out', async () => {
    keepFaults('misses-late', page);
    await maren.playUntil((card) => card.what.startsWith('Boil') && card.button === 'Done');
    await wrong().click();
    await sheet().waitFor();
    await keepPicture(page, 'miss-sheet-1180');
    expect(await targetFaults(page)).toEqual([]);
    await sheet()
      .getByRole('button', { name: /Spilled from/ })
      .click();
    await page.locator('.ways[aria-busy="false"] .way').first().waitFor();
    expect(await ways().textContent()).toMatch(/How soon it would sour is not reckoned/);
    const offered = ways().locator('.way');
    expect(await offered.count()).toBeGreaterThan(0);
    for (const way of await offered.all()) {
      const text = (await way.textContent()) ?? '';
      expect(text).toMatch(/mash over\d\d:\d\d/);
      expect(text).toMatch(/cast-out[\d.]+/);
      expect(text).toMatch(/alpha-amylase left/);
    }
    await keepPicture(page, 'miss-ways-1180');
    expect(await targetFaults(page)).toEqual([]);
  });

  it('looks right on every device, light and dark', async () => {
    keepFaults('misses-look', page);
    for (const size of ['phone', 'tablet', 'tablet-wide'] as const) {
      await page.setViewportSize(SIZES[size]);
      expect([size, await sticksOut(page)]).toEqual([size, []]);
      await keepPicture(page, `miss-ways-${size}`);
    }
    await page.evaluate(() => document.documentElement.setAttribute('data-theme', 'dark'));
    await keepPicture(page, 'miss-ways-dark');
    expect(await faintText(page, 4.5)).toEqual([]);
    await page.evaluate(() => document.documentElement.removeAttribute('data-theme'));
  });

  it('a way is taken: the plan goes on with it, and the log says why', async () => {
    keepFaults('misses-take', page);
    await ways()
      .getByRole('button', { name: /^Take: Brew that much less/ })
      .first()
      .click();
    await wrong().waitFor();
    await expect.poll(async () => (await eventsOf('plan-changed')).length).toBe(1);
    const [changed] = await eventsOf('plan-changed');
    expect(JSON.stringify(changed)).toMatch(/Spilled from/);
    expect((await eventsOf('miss-told')).length).toBe(1);
  });

  it('goes on to the second return, where the helper is gone', async () => {
    keepFaults('misses-helper', page);
    await maren.playUntil((card) => card.what.startsWith('Pull'));
    await maren.playUntil((card) => /^(Heat|Boil)/.test(card.what) && card.button === 'Done');
    await tell(/is gone/);
    await ways()
      .getByRole('button', { name: /^Take: / })
      .first()
      .click();
    await expect.poll(async () => (await eventsOf('plan-changed')).length).toBe(2);
    const lasting = page.getByRole('list', { name: 'Not put right yet' });
    await lasting.getByRole('button', { name: /^Put right/ }).click();
    await lasting.waitFor({ state: 'detached' });
    await page.setViewportSize(SIZES['tablet-wide']);
    await maren.playToTheEnd();
    await maren.end();
    await page.getByRole('heading', { name: 'Planned and done' }).waitFor();
    const record = await page.getByRole('main').textContent();
    expect(record).toMatch(/Spilled from/);
    expect(record).toMatch(/Put right/);
    await keepPicture(page, 'miss-record');
    expect(tablet.faults()).toEqual([]);
  });
});
