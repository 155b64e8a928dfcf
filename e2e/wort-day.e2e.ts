import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, contrastFaults } from './axe.ts';
import { type Brewer, brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { serverLog } from './log-check.ts';
import { sticksOut, targetFaults } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES } from './page.ts';

const BEER = 'Millrace Lager';

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let page: Page;
let maren: Brewer;
/** What was tapped on the wort, as the log must hold it. */
const tapped: string[] = [];

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  tablet = await openDevice(stage.browser, 'tablet-wide');
  page = tablet.page;
  await clock.join(page);
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  await page.getByRole('button', { name: 'Start the day' }).click();
  maren = await brewer(page, clock);
  await maren.playToTheEnd();
});

afterAll(() => stage?.end());

const card = () => page.getByRole('region', { name: 'Wort', exact: true });
const part = (name: string) => page.getByRole('region', { name });

/** Begins or ends the step on top of the screen; some set the next one going. */
async function step(
  name: RegExp,
  did: 'begin' | 'done',
  id: string,
  ...begins: readonly string[]
): Promise<void> {
  await card().getByText(name).first().waitFor();
  await card()
    .getByRole('button', { name: new RegExp(`: ${did}$`) })
    .click();
  const done = [`${did} ${id}`, ...begins.map((next) => `begin ${next}`)];
  if (did !== 'begin') {
    tapped.push(...done);
    return;
  }
  // A hard gate stands before the knock-out; its answer is a tap of its own.
  const begun = card().getByRole('button', { name: /: done$/ });
  const gate = page.getByRole('region', { name: 'Before you begin' });
  await begun.or(gate).first().waitFor();
  if (await gate.isVisible()) {
    await gate.getByRole('button').last().click();
    tapped.push('gate-confirmed');
  }
  tapped.push(...done);
  await begun.waitFor();
}

/** Types a figure into the pad of the wort. */
async function read(box: string, digits: string, unit: string): Promise<void> {
  await page.getByRole('region', { name: box, exact: true }).waitFor();
  await maren.type(digits);
  await page.getByRole('button', { name: 'Read', exact: true }).click();
  tapped.push(`read ${unit === 'pH' ? `pH ${digits}` : `${digits} ${unit}`}`);
}

/** Takes a box that is not asked for in turn. */
async function pick(from: string, box: string): Promise<void> {
  await page.getByRole('region', { name: from, exact: true }).getByRole('button').first().click();
  await page
    .getByRole('region', { name: 'What to read' })
    .getByRole('button', { name: box })
    .click();
}

/** Every size in both lights, to be looked at; and what can be measured of the page. */
async function looked(name: string, below?: string): Promise<void> {
  for (const light of ['dark', 'light'] as const) {
    await page.getByRole('button', { name: `Change to ${light}` }).click();
    for (const [size, viewport] of Object.entries(SIZES)) {
      await page.setViewportSize(viewport);
      await page.getByRole('main').evaluate((main) => main.scrollTo(0, 0));
      await keepPicture(page, `wort-${name}-${size}-${light}`);
      const where = `${name} ${size} ${light}`;
      expect(await sticksOut(page), where).toEqual([]);
      expect(await targetFaults(page), where).toEqual([]);
      expect(await contrastFaults(page), where).toEqual([]);
      if (below === undefined) continue;
      await part(below).evaluate((box) => box.scrollIntoView());
      await keepPicture(page, `wort-${name}-${size}-${light}-below`);
    }
    await page.setViewportSize(SIZES['tablet-wide']);
  }
  expect(await accessibilityFaults(page), name).toEqual([]);
}

describe('from the last rest to pitched wort', () => {
  it('offers the lauter rest and the run-off once the mash is over', async () => {
    keepFaults('lauter', page);
    await step(/Lauter rest/, 'begin', 'lauter-rest');
    await clock.pass(20);
    await step(/Lauter rest/, 'done', 'lauter-rest');
    await step(/Run off/, 'begin', 'run-off');
    await part('Run-off').getByText('the kettle should show now').waitFor();
  });

  it('says after every reading what the kettle should show, and where it leads', async () => {
    keepFaults('run-off', page);
    await clock.pass(20);
    await read('In the kettle', '120', 'L');
    await read('Kettle gravity', '17.5', '°P');
    await read('Runnings gravity', '15.8', '°P');
    await read('Run-off rate', '6', 'L/min');
    await part('Run-off')
      .getByText(/The bed runs: /)
      .waitFor();
    await part('Run-off').getByText('Shut the sparge at').waitFor();
    await part('Run-off')
      .getByText(/· read 17\.5 °P \([+−]/)
      .waitFor();
  });

  it('warns of a closing bed, with remedies in order and what each underlet costs', async () => {
    keepFaults('bed', page);
    await clock.pass(10);
    await pick('In the kettle', 'Run-off rate');
    await read('Run-off rate', '1.5', 'L/min');
    await part('Run-off')
      .getByText(/The bed is (closing|stuck): /)
      .waitFor();
    await card().getByText('The last entry moved the tank').waitFor();
    const remedies = part('Run-off').getByRole('listitem');
    expect(await remedies.count()).toBeGreaterThanOrEqual(3);
    await remedies
      .filter({ hasText: /of liquor: the full kettle .*−0\.\d °P on top/ })
      .first()
      .waitFor();
    await looked('bed', 'Run-off');
  });

  it('lays the ways on from a weak full kettle side by side, and re-times hops and day', async () => {
    keepFaults('kettle', page);
    await part('Run-off').getByRole('button', { name: 'Sparge shut' }).click();
    tapped.push('done sparge-shut');
    await clock.pass(60);
    await step(/Run off/, 'done', 'run-off');
    await read('Kettle temperature', '75', '°C');
    await read('Kettle, as it stands hot', '485', 'L');
    await read('Kettle gravity', '11.8', '°P');
    await read('Kettle pH, cooled', '5.3', 'pH');
    const ways = part('Ways on from the full kettle');
    await ways.getByText('at 20 °C,').waitFor();
    for (const way of ['Go on as it is', 'Boil longer', 'of extract'])
      await ways.getByRole('heading', { name: way }).first().waitFor();
    await ways
      .getByText(/with the hops re-timed/)
      .first()
      .waitFor();
    await looked('kettle', 'Ways on from the full kettle');
    const take = ways.getByRole('button', { name: /^Take: Boil longer/ });
    const said = ((await take.getAttribute('aria-label')) ?? '').replace('Take: ', '');
    await take.click();
    tapped.push(`take ${said}`);
    await ways.getByText('✓ taken').waitFor();
  });

  it('calls for the hops on their minute, and corrects at the end of the boil', async () => {
    keepFaults('boil', page);
    await step(/Bring the wort to the boil/, 'begin', 'heat-wort');
    await clock.pass(30);
    await step(/Bring the wort to the boil/, 'done', 'heat-wort', 'boil-wort');
    const hops = part('Boil and hops').getByRole('list', { name: 'Hops' });
    await hops.getByRole('button', { name: /Weirside: in/ }).waitFor();
    const row = hops.getByRole('listitem').filter({ hasText: 'Weirside' });
    const [, minutes] = /(\d+) min before the end/.exec((await row.textContent()) ?? '') ?? [];
    await looked('boil', 'Boil and hops');
    await hops.getByRole('button', { name: /Weirside: in/ }).click();
    const given = hops.getByText(/✓ in at/);
    await given.waitFor();
    tapped.push(`done hops-${minutes}`);
    await clock.pass(200);
    await read('Kettle, hot, after the boil', '425', 'L');
    await read('Gravity after the boil', '13.6', '°P');
    await part('Boil and hops').getByText('against what is wanted.').waitFor();
  });

  it('knocks out by today’s liquor, looks at the cooler every 5 min, and pitches', async () => {
    keepFaults('knock-out', page);
    await step(/Boil the wort/, 'done', 'boil-wort', 'stand');
    await step(/stand/, 'done', 'stand');
    await step(/Knock out/, 'begin', 'knock-out');
    await clock.pass(6);
    const out = part('Knock-out and pitch');
    await out.getByText('Read the wort out of the cooler now.').waitFor();
    await read('Wort out of the cooler', '15.5', '°C');
    await out.getByText(/Read it again at/).waitFor();
    await read('In the tank so far', '70', 'L');
    await looked('knock-out', 'Knock-out and pitch');
    await clock.pass(30);
    await step(/Knock out/, 'done', 'knock-out');
    await read('Tank temperature', '14', '°C');
    await read('In the tank', '398', 'L');
    await read('Tank gravity', '13.6', '°P');
    await out.getByText(/10¹² cells/).waitFor();
    await step(/pitch/, 'begin', 'pitch');
    await step(/pitch/, 'done', 'pitch');
    await page.getByText('every move of the plan is done').waitFor();
  });

  it('has in the log what was tapped and nothing else', async () => {
    await expect.poll(async () => (await wortTaps()).length).toBe(tapped.length);
    expect(await wortTaps()).toEqual(tapped);
    expect(tablet.faults()).toEqual([]);
  });
});

/** What the log of the server says was done after the mash. */
async function wortTaps(): Promise<string[]> {
  const all = (await serverLog(stage.server.url)).map((placed) => placed.event);
  const from = all.findIndex((e) => e.type === 'move-begun' && e.data.moveId === 'lauter-rest');
  const mine = all.slice(from).sort((a, b) => a.counter - b.counter);
  return mine.flatMap((event): string[] => {
    if (event.type === 'move-begun') return [`begin ${event.data.moveId}`];
    if (event.type === 'move-done') return [`done ${event.data.moveId}`];
    if (event.type === 'wort-read') return [`read ${event.data.text}`];
    if (event.type === 'kettle-chosen') return [`take ${event.data.text}`];
    return [event.type];
  });
}
