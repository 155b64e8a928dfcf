/** A simulated probe hangs in the tun: from the kit page to the running day, and its faults. */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { brewer } from './brew-day.ts';
import { type BrewhouseClock, brewhouseClock } from './clock.ts';
import { keepFaults, type Stage, sectionOf, setStage } from './journey.ts';
import { sticksOut, targetFaults } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES, type Size } from './page.ts';

const BEER = 'Millrace Lager';
const KIT = 'Hollin Weir, three barrels, kettle is liquor tank';
const FILE = 'examples/two-pull.json';
/** The brewhouse is this far behind the server, so that the day can catch up with it [min]. */
const BEHIND_MIN = 600;
/** How long the first rest has gone on when the probe comes back to the network [min]. */
const INTO_REST_MIN = 22;

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let page: Page;
let probe: { id: string; token: string };
/** Minute of the plan at which the first rest begins. */
let restMin: number;

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(Date.now() - BEHIND_MIN * 60_000);
  tablet = await openDevice(stage.browser, 'tablet-wide');
  page = tablet.page;
  await clock.join(page);
});

afterAll(() => stage?.end());

/** Runs the simulated probe as a person would, to its end. */
function simulated(...more: string[]): Promise<string> {
  const root = fileURLToPath(new URL('..', import.meta.url));
  const args = ['apps/cli/bin/ladlework.mjs', 'probe', FILE, '--to', stage.server.url, ...more];
  const own = ['--probe', probe.id, '--token', probe.token, '--seed', '0'];
  return new Promise((resolve, reject) => {
    execFile(process.execPath, [...args, ...own], { cwd: root }, (error, out, err) =>
      error === null ? resolve(out) : reject(new Error(`${out}${err}`)),
    );
  });
}

interface Logged {
  readonly event: { readonly type: string; readonly data: Record<string, unknown> };
}

async function logged(type: string): Promise<Record<string, unknown>[]> {
  const answer = await fetch(`${stage.server.url}/api/events`);
  const { events } = (await answer.json()) as { events: Logged[] };
  return events.filter((e) => e.event.type === type).map((e) => e.event.data);
}

async function looked(name: string, sizes: readonly Size[]): Promise<void> {
  for (const size of sizes) {
    await page.setViewportSize(SIZES[size]);
    await page.evaluate(() => new Promise(requestAnimationFrame));
    await keepPicture(page, `${name}-${size}`);
    expect(await sticksOut(page)).toEqual([]);
  }
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.setViewportSize(SIZES['tablet-wide']);
}

describe('a probe in the tun', () => {
  it('is added on the kit page, and its device is told where to send', async () => {
    keepFaults('probe-kit', page);
    await page.goto(`${stage.server.url}/#/kit`);
    await page.getByRole('link', { name: new RegExp(KIT) }).click();
    const section = sectionOf(page, 'Probes');
    await section.getByRole('button', { name: 'Add a probe' }).click();
    await section.getByRole('button', { name: 'Save the probe' }).click();
    await section.getByRole('button', { name: /Where it sends to/ }).click();
    const code = (name: string) =>
      section.locator('dl > div').filter({ hasText: name }).locator('code').textContent();
    const address = (await code('HTTP POST to')) ?? '';
    const token = (await code('Authorization')) ?? '';
    expect(token).toMatch(/^[2-9b-z]{24}$/);
    const id = /probes\/([^/]+)\/readings$/.exec(address)?.[1] ?? '';
    probe = { id, token };
    const [saved] = await logged('probe-saved');
    expect(saved).toMatchObject({ probe: { id, what: 'temp', sd: 1 } });
    await looked('probe-kit', ['phone', 'tablet', 'tablet-wide', 'desktop']);
  });

  it('is heard on the running day, what it kept meanwhile as well', {
    timeout: 180_000,
  }, async () => {
    keepFaults('probe-day', page);
    await page.goto(`${stage.server.url}/#/brews/new`);
    await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
    await page.getByRole('combobox', { name: 'Kit' }).selectOption(KIT);
    await page.getByRole('button', { name: 'Plan it' }).click();
    await page.getByText('This kit can do it.').waitFor();
    await page.getByRole('button', { name: 'Start the day' }).waitFor();
    const [planned] = await logged('brew-planned');
    if (planned === undefined) throw new Error('the plan is not in the log');
    const { moves } = planned.planSummary as {
      moves: { kind: string; startMin: { likely: number } }[];
    };
    restMin = moves.find((m) => m.kind === 'rest')?.startMin.likely ?? Number.NaN;
    // So that the middle of the first rest is now, for the server too.
    const behind = () => (Date.now() - clock.nowMs()) / 60_000;
    await clock.pass(behind() - restMin - INTO_REST_MIN);
    await page.getByRole('button', { name: 'Start the day' }).click();
    const maren = await brewer(page, clock);
    await maren.playUntil(
      (card) => card.what.startsWith('Rest') || card.key.includes('rest') || card.button === 'Pull',
    );
    await clock.pass(Math.max(0, behind()));

    const strip = page.getByRole('region', { name: 'Probes' });
    await strip.getByText('never sent').waitFor();
    await simulated(
      '--at',
      String(Math.ceil(restMin) + 1),
      '--late',
      String(INTO_REST_MIN - 3),
      '--every',
      '10',
      '--minutes',
      String(INTO_REST_MIN - 3),
    );
    await simulated(
      '--at',
      String(Math.ceil(restMin) + INTO_REST_MIN),
      '--minutes',
      '3',
      '--every',
      '10',
      '--speed',
      '10',
    );
    await strip.getByText('live').waitFor();
    const shown = (await strip.locator('output').textContent()) ?? '';
    expect(shown).toMatch(/^6\d\.\d °C$/);
    await looked('probe-day', ['phone', 'tablet', 'tablet-wide', 'desktop']);
    expect(await targetFaults(page)).toEqual([]);
  });

  it('presets the pad, and one tap takes its number as the probe’s own reading', async () => {
    keepFaults('probe-take', page);
    const strip = page.getByRole('region', { name: 'Probes' });
    await simulated(
      '--at',
      String(Math.ceil(restMin) + INTO_REST_MIN),
      '--minutes',
      '1',
      '--every',
      '10',
      '--speed',
      '10',
    );
    const take = strip.getByRole('button', { name: /^Take .* as a reading$/ });
    await take.waitFor();
    await take.click();
    await expect
      .poll(async () => (await logged('reading')).at(-1))
      .toMatchObject({
        vessel: 'tun',
        what: 'temp',
        probe: probe.id,
        sdK: 1,
      });
  });

  it('is said to have jumped, and to be silent', { timeout: 120_000 }, async () => {
    keepFaults('probe-faults', page);
    const strip = page.getByRole('region', { name: 'Probes' });
    await simulated(
      '--at',
      String(Math.ceil(restMin) + INTO_REST_MIN),
      '--minutes',
      '1',
      '--every',
      '10',
      '--speed',
      '10',
      '--faults',
      'offset=-20',
    );
    await strip.getByText('jumped').waitFor();
    await keepPicture(page, 'probe-jumped');
    await strip.getByText(/silent since/).waitFor({ timeout: 60_000 });
    await keepPicture(page, 'probe-silent');
    expect(await strip.getByRole('button').count()).toBe(0);
    expect(tablet.faults()).toEqual([]);
  });
});
