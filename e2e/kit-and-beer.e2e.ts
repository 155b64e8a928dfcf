import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { type Device, keepPicture, openDevice } from './page.ts';

let stage: Stage;
let desk: Device;
let page: Page;

beforeAll(async () => {
  stage = await setStage();
  desk = await openDevice(stage.browser, 'desktop');
  page = desk.page;
});

afterAll(() => stage?.end());

const field = (label: string, n = 0) =>
  page.getByRole('textbox', { name: label, exact: true }).nth(n);

/** What stands under a field when it cannot be read. */
async function complaint(of: Locator): Promise<string> {
  expect(await of.getAttribute('aria-invalid')).toBe('true');
  const note = (await of.getAttribute('aria-describedby')) ?? '';
  return (await page.locator(`[id="${note}"]`).textContent()) ?? '';
}

describe('a kit and a beer of one’s own', () => {
  it('a wrong entry is told by field, value and range, and stays until it is mended', async () => {
    keepFaults('kit-wrong', page);
    await page.goto(`${stage.server.url}/#/kit`);
    await page.getByRole('button', { name: 'New kit' }).click();
    await field('Name of the kit').fill('Barn, two barrels');
    await field('Volume to the brim').fill('a lot');
    expect(await complaint(field('Volume to the brim'))).toMatch(
      /Volume to the brim.*"a lot".*1(\.0+)? L.*20[ ,]?000 L/,
    );
    await field('Inner diameter').fill('9 m');
    expect(await complaint(field('Inner diameter'))).toMatch(
      /Inner diameter.*"9 m".*0\.1 m to 4 m/,
    );
    await field('Height above the sea').fill('310');
    const save = page.getByRole('button', { name: 'Save kit' });
    await page.getByText('2 fields cannot be read yet').waitFor();
    expect(await save.isDisabled()).toBe(true);

    await page.reload();
    expect(await field('Name of the kit').inputValue()).toBe('Barn, two barrels');
    expect(await field('Volume to the brim').inputValue()).toBe('a lot');
    expect(await field('Inner diameter').inputValue()).toBe('9 m');
    expect(await field('Height above the sea').inputValue()).toBe('310');
    await keepPicture(page, 'journey-kit-wrong');

    await field('Volume to the brim').fill('1.9 bbl');
    // In centimetres, as the field began, though 350 of them are shown in metres afterwards.
    await field('Inner diameter').fill('');
    await field('Inner diameter').pressSequentially('350');
    expect(await field('Inner diameter').getAttribute('aria-invalid')).toBe('false');
    await field('Inner diameter').blur();
    expect(await field('Inner diameter').inputValue()).toBe('3.5');
    await field('Inner diameter').fill('26 in');
    await save.click();
    await page.getByText('Saved', { exact: true }).waitFor();
    await page.getByRole('heading', { name: 'Barn, two barrels', level: 1 }).waitFor();
    await page.getByRole('navigation').getByRole('link', { name: 'Kit' }).click();
    // 1.9 US barrels of 117.348 L.
    await page.getByRole('link', { name: /Barn, two barrels .*Tun 223 L/ }).waitFor();
  });

  it('what no kit can be is said in one list before it can be saved', async () => {
    keepFaults('kit-cannot-be', page);
    await page.getByRole('link', { name: /Barn, two barrels/ }).click();
    for (const name of ['Kettle', 'Tun']) {
      await page.getByRole('button', { name: `Take away ${name}` }).click();
    }
    const alert = page.getByRole('alert').filter({ hasText: 'This kit cannot be:' });
    expect(await alert.getByRole('listitem').count()).toBeGreaterThan(0);
    expect(await page.getByRole('button', { name: 'Save kit' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Undo changes' }).click();
    await alert.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Take away Kettle' }).waitFor();
  });

  it('a beer is written down with its certificate, and wrong figures are told', async () => {
    keepFaults('beer', page);
    await page.getByRole('navigation').getByRole('link', { name: 'Beers' }).click();
    await page.getByRole('button', { name: 'New beer' }).click();
    await field('Name of the beer').fill('Barn Lager');
    await field('Mash pH, read or expected').fill('7');
    expect(await complaint(field('Mash pH, read or expected'))).toMatch(
      /Mash pH.*"7".*4\.8 to 6\.5/,
    );
    await field('Mash pH, read or expected').fill('5.4');
    await field('Weight').fill('-3 kg');
    expect(await complaint(field('Weight'))).toMatch(/Weight.*-3.*kg/);
    await field('Weight').fill('42');
    await page.getByText('Certificate', { exact: false }).first().click();
    await field('Moisture').fill('45');
    expect(await complaint(field('Moisture'))).toMatch(/"45" is out of range; allowed: /);
    await field('Moisture').fill('4.4');
    await page.getByRole('button', { name: 'Save beer' }).click();
    await page.getByText('Saved', { exact: true }).waitFor();
    await keepPicture(page, 'journey-beer');
  });

  it('reads and shows in US units as well, and nothing changes by changing over', async () => {
    keepFaults('units', page);
    const at = field('At');
    const before = await at.inputValue();
    await page.getByRole('button', { name: /Change to US/ }).click();
    const shown = await at.inputValue();
    expect(Number(shown)).toBeCloseTo(Number(before) * 1.8 + 32, 1);
    await at.fill('152');
    await page.getByRole('button', { name: /Change to metric/ }).click();
    expect(await at.inputValue()).toBe('66.7');
    await at.fill('150 °F');
    await at.blur();
    expect(await at.inputValue()).toBe('65.6');
    await page.getByRole('button', { name: /Change to US/ }).click();
    expect(await at.inputValue()).toBe('150.0');
    await page.reload();
    expect(await at.inputValue()).toBe('150.0');
    await page.getByRole('button', { name: /Change to metric/ }).click();
    await page.getByRole('button', { name: 'Save beer' }).click();
    await page.getByText('Saved', { exact: true }).waitFor();
  });

  it('are planned together, and the plan says whether this kit can', async () => {
    keepFaults('own-plan', page);
    await page.getByRole('navigation').getByRole('link', { name: 'Brews' }).click();
    await page.getByRole('link', { name: 'New brew' }).click();
    await page.getByRole('combobox', { name: 'Beer' }).selectOption('Barn Lager');
    await page.getByRole('combobox', { name: 'Kit' }).selectOption('Barn, two barrels');
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByText(/This kit can(not)? do it/).waitFor();
    await page.getByText('on Barn, two barrels, from 06:00').waitFor();
    await keepPicture(page, 'journey-own-plan');
    expect(desk.faults()).toEqual([]);
  });
});
