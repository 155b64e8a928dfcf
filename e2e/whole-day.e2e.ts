import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, sectionOf, setStage } from './journey.ts';
import { type Device, keepPicture, openDevice, SIZES } from './page.ts';

/** Two pulls; the kettle is the liquor tank too. */
const BEER = 'Millrace Lager';

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

/** Every size, to be looked at. */
async function pictures(name: string): Promise<void> {
  for (const [size, viewport] of Object.entries(SIZES)) {
    await page.setViewportSize(viewport);
    await keepPicture(page, `journey-${name}-${size}`);
  }
  await page.setViewportSize(SIZES['tablet-wide']);
}

async function newBrew(): Promise<void> {
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
}

const dayOf = () => sectionOf(page, 'The whole day');

describe('a day with its own hours', () => {
  it('takes a delivery at 11, a helper until noon, a break, a wish and the work after the mash', async () => {
    keepFaults('hours', page);
    await page.goto(stage.server.url);
    await page.getByRole('button', { name: `Plan ${BEER}` }).click();
    await page.getByRole('textbox', { name: 'Tobias leaves at' }).fill('12:00');
    await page.getByRole('button', { name: 'Add a delivery' }).click();
    await page.getByRole('textbox', { name: 'What comes' }).fill('Malt delivery');
    await page.getByRole('button', { name: 'Add a break' }).click();
    await page.getByRole('textbox', { name: 'Wished to be done by' }).fill('20:00');
    await page.getByText('Boil 1 h 15').click();
    await page.getByRole('textbox', { name: 'Wort boil' }).fill('80 min');
    await page.getByRole('textbox', { name: 'Whirlpool and stand' }).fill('400');
    await page.getByText(/Whirlpool and stand: .*400.*allowed: 0 min to 240 min/).waitFor();
    await page.getByRole('textbox', { name: 'Whirlpool and stand' }).fill('25');
    await pictures('day-forms');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await dayOf()
      .getByText(/All done at .* Proven/)
      .waitFor();
    const table = dayOf().getByRole('table');
    expect(await table.textContent()).toMatch(/11:00.*Malt delivery/);
    await dayOf().getByText('Done by 20:00').waitFor();
    await page.getByRole('img', { name: /as a score of \d vessels/ }).waitFor();
    await pictures('day-plan');
  });

  it('is timed again when a tap is late, and says what moved and why, without the server', async () => {
    keepFaults('late', page);
    await page.getByRole('button', { name: 'Start the day' }).click();
    maren = await brewer(page, clock);
    await maren.playUntil((card) => card.what.startsWith('Pull'));
    const rest = page.getByRole('region', { name: 'The rest of the day' });
    await rest.getByText('all done').waitFor();
    await page.context().setOffline(true);
    await clock.pass(25);
    const moved = rest.getByRole('list', { name: 'What moved' });
    await moved.getByText(/it was due and has not begun|waits for/).waitFor();
    expect(await moved.textContent()).toMatch(/\d\d:\d\d → \d\d:\d\d/);
    await pictures('day-late');
    await maren.next();
    await page.context().setOffline(false);
    await rest.getByText('all done').waitFor();
  });
});

describe('a day of two brews', () => {
  it('takes one more brew on the same kit, and plans both as one day', async () => {
    keepFaults('two', page);
    await newBrew();
    await page.getByRole('textbox', { name: 'Tobias leaves at' }).fill('');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await dayOf()
      .getByText(/All done at/)
      .waitFor();
    await page.getByRole('button', { name: 'Add a brew to this day' }).click();
    await page.getByText(`On the day of ${BEER}, after it, on the same kit.`).waitFor();
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByRole('img', { name: /as a score of \d vessels, 2 brews/ }).waitFor();
    await dayOf()
      .getByText(/All done at/)
      .waitFor();
    const text = (await dayOf().getByRole('table').textContent()) ?? '';
    expect(text.match(/Knock out/g)?.length).toBe(2);
    await pictures('two-brews');
  });

  it('names what clashes when it must be done sooner than it can be', async () => {
    keepFaults('must', page);
    await newBrew();
    await page.getByRole('textbox', { name: 'Must be done by' }).fill('14:00');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await dayOf().getByText('The day cannot be done as asked; this is proven.').waitFor();
    await dayOf()
      .getByText(/The day is to end by 14:00\. It cannot end before \d\d:\d\d\./)
      .waitFor();
    await dayOf().getByText('Without this one the day fits.').first().waitFor();
    expect(tablet.faults().filter((f) => !f.includes('ERR_INTERNET_DISCONNECTED'))).toEqual([]);
  });
});
