import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, contrastFaults } from './axe.ts';
import { keepFaults, type Stage, sectionOf, setStage } from './journey.ts';
import { sticksOut } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES, type Size } from './page.ts';

/** Eight ways are played, on shared cores. */
const LONG_MS = 60_000;

let stage: Stage;
let desk: Device;
let page: Page;
/** Hash of the planned brew. */
let brew: string;

beforeAll(async () => {
  stage = await setStage();
  desk = await openDevice(stage.browser, 'desktop');
  page = desk.page;
  await page.goto(stage.server.url);
  brew = await planned('Millrace Lager', 'This kit can do it.');
});

afterAll(() => stage?.end());

async function planned(beer: string, verdict: string): Promise<string> {
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(beer);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText(verdict).waitFor();
  return new URL(page.url()).hash;
}

async function openPart(name: string): Promise<void> {
  await page.goto(`${stage.server.url}/${brew}`);
  await page.getByRole('link', { name: 'Other ways' }).click();
  await page.getByRole('heading', { name: 'Ways to brew it' }).waitFor();
  await page.getByRole('link', { name, exact: true }).click();
}

const rowsOf = (caption: string) =>
  page.getByRole('table').filter({ hasText: caption }).locator('tbody').getByRole('row');

describe('the ways to brew a beer', () => {
  it('stand side by side, each figure with its band', async () => {
    keepFaults('ways-side', page);
    await openPart('Side by side');
    await page.getByText('The whole day').waitFor({ timeout: LONG_MS });
    const rows = await rowsOf('The whole day').allTextContents();
    expect(rows.length).toBeGreaterThanOrEqual(6);
    for (const row of rows) expect(row).toMatch(/\d+\.\d h[\d.]+ to [\d.]+ h/);
    const cannot = sectionOf(page, 'Not on this kit').getByRole('listitem');
    expect(await cannot.first().textContent()).toMatch(/Stepped by liquor: .*\d+ L/);
  });

  it('are held against any one of them', async () => {
    keepFaults('ways-against', page);
    await page.getByText('Against one of them').click();
    await page.getByRole('combobox', { name: 'Against' }).selectOption('Single infusion');
    const held = rowsOf('The whole day').filter({ hasText: 'held against' });
    expect(await held.textContent()).toContain('Single infusion');
    expect(await held.textContent()).toContain('±0.0 h');
    const pulls = rowsOf('The whole day').filter({ hasText: 'Three pulls' });
    expect(await pulls.textContent()).toMatch(/\+\d\.\d h/);
  });

  it('quote what was published, with what it contradicts, and promise no flavour', async () => {
    keepFaults('ways-published', page);
    const found = sectionOf(page, 'What others have found');
    await found.getByText('Attenuation').first().click();
    expect(await found.textContent()).toContain('Of flavour nothing is promised');
    expect(await found.textContent()).toContain('Pehlivani & Prifti 2013');
  });
});

describe('the search', () => {
  it('can be stopped, and changes nothing then', async () => {
    keepFaults('ways-stop', page);
    await openPart('Find a plan');
    await page.getByRole('button', { name: 'Find plans' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByText('Stopped. Nothing was changed.').waitFor();
  });

  it('keeps to the pulls it was allowed, and tells the chance of missing', async () => {
    keepFaults('ways-find', page);
    await page.getByRole('combobox', { name: 'Pulls at most' }).selectOption('1');
    await page.getByRole('button', { name: 'Find plans' }).click();
    await page.getByRole('heading', { name: 'Plans to choose from' }).waitFor({ timeout: LONG_MS });
    const plans = await page.locator('.plan-menu > li').allTextContents();
    expect(plans.length).toBeGreaterThanOrEqual(1);
    expect(plans.length).toBeLessThanOrEqual(7);
    for (const plan of plans) {
      expect(plan).not.toMatch(/[23] pulls/);
      expect(plan).toMatch(/A rest missed by more than 1 K\d+ %/);
    }
    await page.getByRole('combobox', { name: 'Up' }).selectOption('Energy of the mash');
    await page
      .getByRole('img', { name: /^Energy of the mash against All done at: plan 1/ })
      .waitFor();
  });

  it("makes the plan that is taken the brew's own", async () => {
    keepFaults('ways-take', page);
    const name = await page.locator('.plan-menu > li h3').first().textContent();
    await page.getByRole('button', { name: 'Take this plan: 1', exact: true }).click();
    await page.getByText('This kit can do it.').waitFor({ timeout: LONG_MS });
    expect(new URL(page.url()).hash).toBe(brew);
    if (name?.includes('infusion')) await page.getByText('No pull, mash over').waitFor();
  });
});

describe('a kit that cannot', () => {
  it('hears what clashes, and tries the smallest change of one limit', async () => {
    keepFaults('ways-no', page);
    const own = brew;
    brew = await planned('Weir Gold, stepped', 'This kit cannot do it as asked.');
    await openPart('Find a plan');
    await page.getByRole('button', { name: 'Find plans' }).click();
    const clash = sectionOf(page, 'Why not just as planned');
    await clash.waitFor({ timeout: LONG_MS });
    expect(await clash.textContent()).toContain('Stock pot holds 60 L');
    const changes = clash.getByRole('button', { name: /^Try it: / });
    expect(await changes.count()).toBeGreaterThanOrEqual(3);
    await changes.first().click();
    await page.getByText('This kit can do it.').waitFor({ timeout: LONG_MS });
    brew = own;
  });
});

describe('another kit, other malts', () => {
  it('what if: a burner is stepped, and the day ends sooner', async () => {
    keepFaults('ways-what-if', page);
    brew = await planned('Millrace Lager', 'This kit can do it.');
    await openPart('What if');
    for (let i = 0; i < 4; i++)
      await page.getByRole('button', { name: 'Kettle burner, more' }).click();
    await page.getByText(/^With Kettle burner of /).waitFor({ timeout: LONG_MS });
    const done = page.getByRole('row', { name: /^All done, cleaned up/ });
    await expect.poll(() => done.textContent(), { timeout: LONG_MS }).toMatch(/−\d+ min/);
    await page.getByRole('slider', { name: 'Kettle burner, slider' }).press('ArrowLeft');
  });

  it('what would help most, at the price that is named', async () => {
    keepFaults('ways-help', page);
    await page.getByRole('button', { name: 'Work out what would help' }).click();
    const price = page.getByRole('textbox', { name: /^Price of Kettle burner/ });
    await price.waitFor({ timeout: LONG_MS });
    await price.fill('900');
    await page.getByText(/^after \d+ brews?$/).waitFor();
  });

  it('instead of boiling: a grist from the lots of the house, taken as a beer', async () => {
    keepFaults('ways-malt', page);
    await openPart('Instead of boiling');
    await page.getByText('an alternative, not an equivalent').waitFor({ timeout: LONG_MS });
    await page.getByRole('button', { name: 'Take it as a new beer' }).click();
    await page.getByRole('heading', { name: 'Millrace Lager, no boil' }).waitFor();
  });

  it('is settled blind: slips in, and what they show', async () => {
    keepFaults('ways-tasting', page);
    await openPart('Blind tasting');
    await page.getByRole('textbox', { name: 'Tasters' }).fill('6');
    await page.getByText('for the one who pours, and no one else').click();
    const key = (await page.locator('.key-sheet pre').textContent()) ?? '';
    const odd = [...key.matchAll(/odd (\d{3})/g)].map((m) => m[1] as string);
    expect(odd).toHaveLength(6);
    for (const [i, code] of odd.entries())
      await page.getByRole('combobox', { name: `Taster ${i + 1}`, exact: true }).selectOption(code);
    // (1/3)^6: six right by guessing alone. [binomial, ISO 4120]
    await page.getByText(/^6 of 6 named the odd glass\. .*can be told apart/).waitFor();
  });

  it('on another kit: bags, what comes along, and what does not on both kits', async () => {
    keepFaults('ways-size', page);
    await openPart('On another kit');
    await page
      .getByRole('combobox', { name: 'Kit' })
      .selectOption('Hollin Weir, one barrel on the stove');
    await page
      .getByRole('heading', { name: 'What does not come along' })
      .waitFor({ timeout: LONG_MS });
    const boils = page.getByRole('row', { name: /^Pull 1 / }).first();
    expect(await boils.textContent()).toMatch(/\d+ L .*\d+ L/);
    await page.getByRole('button', { name: 'Plan it there' }).click();
    await page
      .getByText('Taken over from Hollin Weir, three barrels')
      .waitFor({ timeout: LONG_MS });
    expect(desk.faults()).toEqual([]);
  });
});

describe.each([
  ['', 'The whole day'],
  ['/find', 'What you want'],
  ['/kit', 'Widest landing band'],
  ['/malt', 'Mash pH'],
  ['/tasting', 'What they marked'],
  ['/size', 'What does not come along'],
])('the part ways%s', (part, there) => {
  it.each(Object.keys(SIZES) as Size[])(
    'is whole and usable by everybody on a %s',
    async (size) => {
      keepFaults(`ways${part.replace('/', '-')}-${size}`, page);
      await page.setViewportSize(SIZES[size]);
      await page.goto(`${stage.server.url}/${brew.replace('/plan', '/ways')}${part}`);
      await page.getByText(there).first().waitFor({ timeout: LONG_MS });
      await keepPicture(page, `ways${part.replace('/', '-')}-${size}`);
      expect(await sticksOut(page)).toEqual([]);
      expect(await accessibilityFaults(page)).toEqual([]);
      await page.getByRole('button', { name: 'Change to dark' }).click();
      expect(await contrastFaults(page)).toEqual([]);
      await page.getByRole('button', { name: 'Change to light' }).click();
    },
  );
});
