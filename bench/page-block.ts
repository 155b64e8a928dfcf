import type { CDPSession, Locator, Page } from 'playwright-core';
import { brewer } from '../e2e/brew-day.ts';
import { brewhouseClock, nextMorningMs } from '../e2e/clock.ts';
import { setStage } from '../e2e/journey.ts';
import { openDevice } from '../e2e/page.ts';
import type { Bench, Ratio } from './support/measure.ts';

/** A tablet of the brewhouse against this machine's core; Chromium's own throttle. */
const SLOWER = 4;
const BUDGET_MS = 50;
const ROUNDS = 5;
/** Longer than a forecast takes on the slowed core [ms]. */
const FORECAST_MS = 6_000;

interface Meter {
  /** Longest wait of a task that could have run [ms]. */
  worstMs: number;
  /** Tasks over 50 ms, as the browser counts them. */
  longTasks: number;
}

/** Runs before anything of the page, and before its clock is replaced. */
function startMeter(): void {
  const meter: Meter = { worstMs: 0, longTasks: 0 };
  const now = performance.now.bind(performance);
  const later = setTimeout.bind(globalThis);
  let last = now();
  const tick = () => {
    const at = now();
    meter.worstMs = Math.max(meter.worstMs, at - last);
    last = at;
    later(tick, 0);
  };
  tick();
  new PerformanceObserver((list) => {
    meter.longTasks += list.getEntries().length;
  }).observe({ type: 'longtask' });
  (globalThis as unknown as { meter: Meter }).meter = meter;
}

const sleep = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** The longest block of the page's main thread while something is done. */
async function blockOf(page: Page, act: () => Promise<void>): Promise<Meter> {
  await page.evaluate(() => {
    const { meter } = globalThis as unknown as { meter: Meter };
    meter.worstMs = 0;
    meter.longTasks = 0;
  });
  await act();
  return page.evaluate(() => ({ ...(globalThis as unknown as { meter: Meter }).meter }));
}

/** The best of several rounds: a busy machine slows some of them, the page slows all. */
async function best(page: Page, act: (round: number) => Promise<void>): Promise<Meter> {
  const meters: Meter[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    meters.push(await blockOf(page, () => act(round)));
  }
  return meters.reduce((a, b) => (b.worstMs < a.worstMs ? b : a));
}

async function middleOf(button: Locator): Promise<{ x: number; y: number }> {
  await button.scrollIntoViewIfNeeded();
  const box = await button.boundingBox();
  if (box === null) throw new Error('the button is not on the page');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

export const bench: Bench = {
  about: `Longest block of the page's main thread, with Chromium's CPU throttle at ${SLOWER}; budget ${BUDGET_MS} ms. The day page in a return against Today with nothing to do, best of ${ROUNDS}.`,
  run: async () => {
    const stage = await setStage();
    try {
      const device = await openDevice(stage.browser, 'tablet-wide');
      const { page } = device;
      // tsx writes the names of functions down with a helper that the page does not have.
      await page.addInitScript({ content: 'globalThis.__name ??= (f) => f;' });
      await page.addInitScript(startMeter);
      const clock = brewhouseClock(nextMorningMs());
      await clock.join(page);
      await page.goto(`${stage.server.url}/#/brews/new`);
      await page.getByRole('combobox', { name: 'Beer' }).selectOption('Millrace Lager');
      await page.getByRole('button', { name: 'Plan it' }).click();
      await page.getByRole('button', { name: 'Start the day' }).click();
      const maren = await brewer(page, clock);
      await maren.playUntil((card) => card.what.startsWith('Return'));
      await maren.next();
      await sleep(FORECAST_MS);
      const throttle = await slowed(page);

      const more = await middleOf(page.getByRole('button', { name: /^0\.1 more$/ }));
      const read = await middleOf(page.getByRole('button', { name: /^Read/ }));
      const forecast = await best(page, async () => {
        // Half a minute on, the day is forecast anew; nobody touches the page.
        await clock.pass(0.5);
        await sleep(FORECAST_MS);
      });
      const stepping = await best(page, async () => {
        for (let n = 0; n < 4; n += 1) {
          await page.mouse.click(more.x, more.y);
          await sleep(200);
        }
      });
      const reading = await best(page, async () => {
        await page.mouse.click(read.x, read.y);
        await sleep(FORECAST_MS);
      });
      await page.evaluate(() => {
        location.hash = '#/today';
      });
      await page.getByRole('navigation', { name: 'Headings' }).waitFor();
      await sleep(2_000);
      const idle = await best(page, () => sleep(3_000).then(() => undefined));
      await throttle.detach();
      const row = (what: string, meter: Meter): Ratio => ({
        what,
        ms: meter.worstMs,
        baseline: 'Today, idle',
        baselineMs: idle.worstMs,
        note: `${meter.longTasks} long tasks over ${BUDGET_MS} ms, ${meter.worstMs <= BUDGET_MS ? 'within' : 'over'} the budget`,
      });
      return [
        row('day page while the forecast runs', forecast),
        row('four steps on the pad', stepping),
        row('a reading written down and forecast', reading),
      ];
    } finally {
      await stage.end();
    }
  },
};

async function slowed(page: Page): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  return session;
}
