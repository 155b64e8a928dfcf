import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { type DayHands, dayHands } from './day-hands.ts';
import { keepFaults, type Stage, sectionOf, setStage } from './journey.ts';
import { type Device, keepPicture, openDevice, SIZES } from './page.ts';

const BEER = 'Millrace Lager';

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let page: Page;
let hands: DayHands;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  tablet = await openDevice(stage.browser, 'tablet-wide');
  page = tablet.page;
  await clock.join(page);
});

afterAll(() => stage?.end());

async function pictures(name: string): Promise<void> {
  for (const [size, viewport] of Object.entries(SIZES)) {
    await page.setViewportSize(viewport);
    await keepPicture(page, `journey-${name}-${size}`);
  }
  await page.setViewportSize(SIZES['tablet-wide']);
}

/** As it goes on paper, A4 less its margins. */
async function printed(name: string): Promise<void> {
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 718, height: 1047 });
  await page.pdf({ path: `.shots/${name}.pdf`, format: 'A4' });
  await keepPicture(page, `print-${name}`);
  await page.emulateMedia({ media: null });
  await page.setViewportSize(SIZES['tablet-wide']);
}

const rest = () => page.getByRole('region', { name: 'The rest of the day' });
const second = () => rest().getByRole('link', { name: /brew 2/ });

describe('a day of two brews, run by taps', () => {
  it('takes the mash of the first brew through, and the work beside it', async () => {
    keepFaults('first', page);
    await page.goto(`${stage.server.url}/#/brews/new`);
    await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
    await page.getByRole('textbox', { name: 'Tobias leaves at' }).fill('');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByRole('button', { name: 'Add a brew to this day' }).click();
    await page.getByText(`On the day of ${BEER}, after it, on the same kit.`).waitFor();
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByRole('img', { name: /as a score of \d vessels, 2 brews/ }).waitFor();
    await sectionOf(page, 'The whole day')
      .getByText(/All done at/)
      .waitFor();
    await printed('two-run-plan');
    await page.getByRole('button', { name: /^List of Maren/ }).click();
    await page.getByRole('button', { name: 'Print this list' }).waitFor();
    await page.locator('.hand-list').evaluate((list) => list.classList.add('printing'));
    await printed('two-run-list');
    await page.locator('.hand-list').evaluate((list) => list.classList.remove('printing'));
    await sectionOf(page, 'Brews of this day').getByRole('link', { name: BEER }).click();
    await page.getByRole('button', { name: 'Start the day' }).click();
    await rest().getByText('all done').waitFor();
    hands = await dayHands(page, clock);
    await hands.mash();
    await pictures('two-run-mash-over');
  });

  it('goes on with run-off, boil and cleaning by taps, until the second brew is to begin', async () => {
    keepFaults('after', page);
    await hands.work(async () => {
      const at = /at (\d\d):(\d\d)/.exec((await second().textContent()) ?? '');
      if (at === null) throw new Error('no hour for the second brew');
      return clock.nowMs() % 86_400_000 >= (Number(at[1]) * 60 + Number(at[2])) * 60_000;
    });
    await pictures('two-run-second');
    expect(hands.taps.some((t) => /^Knock out, brew 1: done/.test(t.what))).toBe(true);
  });
});
