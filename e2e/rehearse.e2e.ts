import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { keepFaults, type Stage, sectionOf, setStage } from './journey.ts';
import { sticksOut } from './look.ts';
import { keepPicture, openDevice } from './page.ts';

let stage: Stage;
let page: Page;

beforeAll(async () => {
  stage = await setStage();
  page = (await openDevice(stage.browser, 'tablet-wide')).page;
});

afterAll(() => stage?.end());

it('a brew is rehearsed from its plan, scored against the textbook, and leaves no trace in the log', async () => {
  keepFaults('rehearse', page);
  await page.goto(stage.server.url);
  await page.getByRole('button', { name: 'Plan Millrace Lager' }).click();
  await page
    .getByRole('combobox', { name: 'Kit' })
    .selectOption('Hollin Weir, three barrels, kettle is liquor tank');
  await page.getByRole('button', { name: 'Plan it' }).click();
  const part = sectionOf(page, 'Rehearse this brew');
  await part.getByRole('button', { name: 'Rehearse with surprises' }).click();
  await part.getByText(/Return 2: wanted 77.0 °C, landed/).waitFor({ timeout: 120_000 });
  const text = (await part.textContent()) ?? '';
  const pairs = [
    ...text.matchAll(
      /wanted ([\d.]+) °C, landed ([\d.]+) °C, the textbook pull would have landed at ([\d.]+) °C/g,
    ),
  ];
  expect(pairs).toHaveLength(2);
  await part.getByText(/not your record/).waitFor();
  await part.scrollIntoViewIfNeeded();
  for (const [width, height] of [
    [1180, 820],
    [820, 1180],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await part.scrollIntoViewIfNeeded();
    expect(await sticksOut(page)).toEqual([]);
    await keepPicture(page, `rehearse-${width}`);
  }
  expect(await accessibilityFaults(page)).toEqual([]);
});
