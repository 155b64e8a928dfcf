import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, contrastFaults } from './axe.ts';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { faintText, sticksOut, targetFaults } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES, type Size } from './page.ts';

const SIZE_NAMES = Object.keys(SIZES) as Size[];

let stage: Stage;
let clock: BrewhouseClock;
let device: Device;
let page: Page;
let maren: Brewer;
/** Hashes of the two brews: the one under way, and the one that cannot be done. */
let running: string;
let impossible: string;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  device = await openDevice(stage.browser, 'tablet-wide');
  page = device.page;
  await clock.join(page);
  await page.goto(stage.server.url);
  impossible = await planned('Weir Gold, stepped', 'This kit cannot do it as asked.');
  await page.goto(`${stage.server.url}/#/brews/new`);
  running = await planned('Millrace Lager', 'This kit can do it.');
  await page.getByRole('button', { name: 'Start the day' }).click();
  maren = await brewer(page, clock);
  await maren.playUntil((card) => card.what.startsWith('Return'));
  await maren.next();
  await maren.portions(3);
});

afterAll(() => stage?.end());

async function planned(beer: string, verdict: string): Promise<string> {
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(beer);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText(verdict).waitFor();
  return new URL(page.url()).hash;
}

/** A page, where it is, and what shows that it is all there. */
interface Stop {
  readonly name: string;
  readonly hash: () => string;
  readonly there: () => Promise<void>;
}

const heading = (name: string | RegExp) => () =>
  page.getByRole('heading', { name, level: 1 }).waitFor();
const button = (name: string) => () => page.getByRole('button', { name }).first().waitFor();

const STOPS: readonly Stop[] = [
  { name: 'today', hash: () => '#/today', there: heading(/\d/) },
  { name: 'beers', hash: () => '#/beers', there: button('Copy Weir Pale') },
  { name: 'beer', hash: () => '#/beers/millrace-lager', there: button('Save beer') },
  { name: 'kits', hash: () => '#/kit', there: button('New kit') },
  { name: 'kit', hash: () => '#/kit/three-barrels', there: button('Save kit') },
  { name: 'brews', hash: () => '#/brews', there: heading('Brews') },
  { name: 'new-brew', hash: () => '#/brews/new', there: button('Plan it') },
  {
    name: 'plan',
    hash: () => running,
    there: () => page.getByRole('heading', { name: 'Moves' }).waitFor(),
  },
  {
    name: 'plan-cannot',
    hash: () => impossible,
    there: () => page.getByRole('heading', { name: 'Moves' }).waitFor(),
  },
  {
    name: 'record',
    hash: () => running.replace('/plan', '/record'),
    there: () => page.getByRole('heading', { name: 'Every entry' }).waitFor(),
  },
  {
    name: 'paper',
    hash: () => running.replace('/plan', '/paper'),
    there: () => page.getByText('The brew sheet, then 2 ruler charts.').waitFor(),
  },
  {
    name: 'paper-in',
    hash: () => running.replace('/plan', '/paper-in'),
    there: heading('Type paper in'),
  },
  { name: 'devices', hash: () => '#/devices', there: heading('Devices') },
  { name: 'nowhere', hash: () => '#/attic', there: heading('Nothing stands here') },
];

async function goTo(stop: Stop, size: Size): Promise<void> {
  await page.setViewportSize(SIZES[size]);
  await page.evaluate((hash) => {
    location.hash = hash;
  }, stop.hash());
  await stop.there();
}

/** Does something with the other of light and dark, and turns back. */
async function inTheDark(run: () => Promise<void>): Promise<void> {
  await page.getByRole('button', { name: 'Change to dark' }).click();
  try {
    await run();
  } finally {
    await page.getByRole('button', { name: 'Change to light' }).click();
  }
}

async function expectClean(name: string, size: Size): Promise<void> {
  await keepPicture(page, `${name}-${size}`);
  expect(await sticksOut(page)).toEqual([]);
  expect(await accessibilityFaults(page)).toEqual([]);
  await inTheDark(async () => {
    expect(await contrastFaults(page)).toEqual([]);
    if (size === 'tablet-wide') await keepPicture(page, `${name}-${size}-dark`);
  });
  expect(device.faults()).toEqual([]);
}

describe.each(STOPS)('the page $name', (stop) => {
  it.each(SIZE_NAMES)('is whole and usable by everybody on a %s', async (size) => {
    keepFaults(`${stop.name}-${size}`, page);
    await goTo(stop, size);
    await expectClean(stop.name, size);
  });
});

/** The day page, which is used with wet gloves and read in steam. */
async function expectFitForTheBrewhouse(): Promise<void> {
  expect(await targetFaults(page)).toEqual([]);
  expect(await faintText(page, 7)).toEqual([]);
  await inTheDark(async () => expect(await faintText(page, 7)).toEqual([]));
}

const DAY: Stop = {
  name: 'day',
  hash: () => running.replace('/plan', '/day'),
  there: () => page.getByRole('button', { name: 'Returned', exact: true }).waitFor(),
};

describe('the day during a return', () => {
  it.each(SIZE_NAMES)('is fit for the brewhouse on a %s', async (size) => {
    keepFaults(`day-${size}`, page);
    await goTo(DAY, size);
    await page.getByText(/3 min/).first().waitFor();
    await expectClean('day-return', size);
    await expectFitForTheBrewhouse();
  });
});

describe('the day after a miss', () => {
  const missed: Stop = {
    ...DAY,
    there: () =>
      page
        .getByRole('button', { name: /^Pick: / })
        .first()
        .waitFor(),
  };

  it('offers its ways out', async () => {
    keepFaults('day-miss', page);
    await goTo(DAY, 'tablet-wide');
    await maren.playUntil((card) => card.what.startsWith('Rest Mash tun'));
    await clock.pass(1);
    await maren.read('69.0');
    await missed.there();
  });

  it.each(SIZE_NAMES)('is fit for the brewhouse on a %s', async (size) => {
    keepFaults(`day-miss-${size}`, page);
    await goTo(missed, size);
    await expectClean('day-miss', size);
    await expectFitForTheBrewhouse();
  });
});

describe.each(['For the wall', 'For the pocket'])('the day laid out %s', (layout) => {
  it.each(['phone', 'tablet-wide'] as const)('is fit for the brewhouse on a %s', async (size) => {
    keepFaults(`${layout}-${size}`, page);
    await goTo({ ...DAY, there: button('Everything') }, size);
    await page.getByRole('button', { name: layout }).click();
    await expectClean(`day-${layout.split(' ').at(-1)}`, size);
    await expectFitForTheBrewhouse();
    await page.getByRole('button', { name: 'Everything' }).click();
  });
});
