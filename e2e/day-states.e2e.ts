/** Every state of the day in which somebody has wet hands: size, gap, contrast, keys, and axe. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { alarmOn, type Brewer, brewer } from './brew-day.ts';
import { launchBrowser } from './browser.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage } from './journey.ts';
import { keyboardFaults } from './keyboard.ts';
import { faintText, sticksOut, targetFaults } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES, type Size } from './page.ts';
import { pairBy } from './pairing.ts';
import { startTestServer } from './server.ts';

/** One pull, three pots side by side, buckets: work for two. */
const BEER = 'Weir Gold';
const SIZE_NAMES = ['phone', 'tablet', 'tablet-wide'] as const satisfies readonly Size[];

let stage: Stage;
let clock: BrewhouseClock;
let tablet: Device;
let phone: Device;
let wall: Device;
let maren: Brewer;
let day: string;

beforeAll(async () => {
  const browser = await launchBrowser();
  const server = await startTestServer({ PAIR: 'all' });
  stage = {
    browser,
    server,
    end: async () => {
      await browser.close();
      await server.stop();
    },
  };
  clock = brewhouseClock(nextMorningMs());
  tablet = await openDevice(browser, 'tablet-wide');
  phone = await openDevice(browser, 'phone');
  wall = await openDevice(browser, 'tablet');
  for (const { page } of [tablet, phone, wall]) await clock.join(page);
  await pairBy(tablet.page, server, server.url, 'brewer', 'Tablet at the kettle');
  await pairBy(phone.page, server, server.url, 'helper', 'Phone of Tobias');
  await pairBy(wall.page, server, server.url, 'viewer', 'Screen at the bar');
  const { page } = tablet;
  await page.goto(`${server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  day = new URL(page.url()).hash.replace('/plan', '/day');
});

afterAll(() => stage?.end());

/** Fit for wet gloves and steam at each size, in both lights. */
async function expectFit(page: Page, name: string, sizes: readonly Size[] = SIZE_NAMES) {
  const before = page.viewportSize();
  for (const size of sizes) {
    await page.setViewportSize(SIZES[size]);
    for (const light of ['light', 'dark']) {
      await page.evaluate((as) => {
        document.documentElement.dataset['theme'] = as;
      }, light);
      await keepPicture(page, `state-${name}-${size}-${light}`);
      expect.soft(await faintText(page, 7), `${size} ${light}`).toEqual([]);
    }
    await page.evaluate(() => {
      document.documentElement.dataset['theme'] = 'light';
    });
    expect.soft(await sticksOut(page), size).toEqual([]);
    expect.soft(await targetFaults(page), size).toEqual([]);
    expect.soft(await accessibilityFaults(page), size).toEqual([]);
  }
  if (before) await page.setViewportSize(before);
}

const openHash = (page: Page, hash: string) =>
  page.evaluate((to) => {
    location.hash = to;
  }, hash);

const large = (page: Page, name: string) =>
  page.getByRole('region', { name: 'Now', exact: true }).getByRole('button', { name, exact: true });

describe('a day at one page', () => {
  it('before it begins', async () => {
    const { page } = tablet;
    keepFaults('state-before', page);
    await page.goto(`${stage.server.url}/${day}`);
    await page.getByText('This brew has not begun.').waitFor();
    await expectFit(page, 'before');
    await page.getByRole('link', { name: 'To its plan' }).click();
    // Who may not begin the day is not shown the button.
    await phone.page.goto(`${stage.server.url}/${day.replace('/day', '/plan')}`);
    await phone.page.getByRole('heading', { name: 'Moves' }).waitFor();
    expect(await phone.page.getByRole('button', { name: 'Start the day' }).count()).toBe(0);
    await page.getByRole('button', { name: 'Start the day' }).click();
    maren = await brewer(page, clock);
    await maren.card();
  });

  it('at its first move, by keys alone as well', async () => {
    const { page } = tablet;
    keepFaults('state-first', page);
    await expectFit(page, 'first');
    expect(await keyboardFaults(page)).toEqual([]);
    const { button } = (await maren.card()) ?? {};
    await page.keyboard.press(' ');
    await large(page, button ?? '').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Undo' }).click();
    await large(page, button ?? '').waitFor();
  });

  it('while malt goes in', async () => {
    keepFaults('state-mash-in', tablet.page);
    await maren.playUntil((card) => card.button === 'Mashed in');
    await expectFit(tablet.page, 'mash-in');
  });

  it('while the alarm rings, answered by a key', async () => {
    const { page } = tablet;
    keepFaults('state-alarm', page);
    await maren.playUntil((card) => card.what.startsWith('Rest') && card.button === 'Done');
    // Nobody answers in the brewer's stead.
    await page.removeLocatorHandler(alarmOn(page));
    const left = /, (?:(\d+) h )?(\d+) min left/.exec((await maren.card())?.key ?? '');
    await clock.pass(Number(left?.[1] ?? 0) * 60 + Number(left?.[2] ?? 0) - 1);
    const alarm = alarmOn(page);
    await alarm.waitFor();
    await keepPicture(page, 'state-alarm');
    expect.soft(await accessibilityFaults(page)).toEqual([]);
    expect.soft(await faintText(page, 7)).toEqual([]);
    await page.keyboard.press('Enter');
    await alarm.waitFor({ state: 'detached' });
    maren = await brewer(page, clock);
  });

  it('while a pull is taken out', async () => {
    keepFaults('state-pull', tablet.page);
    await maren.playUntil((card) => card.button === 'Pulled');
    await expectFit(tablet.page, 'pull');
  });
});

describe('a helper’s phone', () => {
  it('shows one action, why it is done, and a way to call', async () => {
    const { page } = phone;
    keepFaults('state-helper', page);
    await page.goto(`${stage.server.url}/${day}`);
    const hands = page.getByText('Tobias', { exact: true });
    await hands.waitFor();
    await page.getByRole('button', { name: 'Why?' }).click();
    await page.getByRole('status').filter({ hasText: /\.$/ }).first().waitFor();
    for (const name of ['Landed off', 'End the brew', 'For the wall']) {
      expect(await page.getByRole('button', { name }).count(), name).toBe(0);
    }
    for (const name of ['Log', 'Score']) {
      expect(await page.getByRole('heading', { name }).count(), name).toBe(0);
    }
    await expectFit(page, 'helper');
    expect(await keyboardFaults(page)).toEqual([]);
  });

  it('calls; the kettle’s tablet rings, and the answer comes back', async () => {
    keepFaults('state-call', phone.page, tablet.page);
    await phone.page.getByRole('button', { name: 'Call the brewer' }).click();
    const ringing = tablet.page.getByRole('alertdialog', { name: /^H calls/ });
    await ringing.waitFor();
    await keepPicture(tablet.page, 'state-call');
    expect(await faintText(tablet.page, 7)).toEqual([]);
    await ringing.getByRole('button', { name: 'Coming' }).click();
    await phone.page.getByText(/^B is coming, since/).waitFor();
  });

  it('says that a call without network reaches nobody, and delivers it later', async () => {
    keepFaults('state-call-offline', phone.page, tablet.page);
    await phone.page.context().setOffline(true);
    await phone.page.getByRole('button', { name: 'Call the brewer' }).click();
    await phone.page.getByText(/without network it reaches nobody: shout/).waitFor();
    await phone.page.context().setOffline(false);
    const ringing = tablet.page.getByRole('alertdialog', { name: /^H calls/ });
    await ringing.waitFor();
    await ringing.getByRole('button', { name: 'Coming' }).click();
    await ringing.waitFor({ state: 'detached' });
    phone.forgiveFaults();
  });
});

describe('a screen that only looks on', () => {
  it('shows the day, and nothing that writes', async () => {
    const { page } = wall;
    keepFaults('state-viewer', page);
    await page.goto(`${stage.server.url}/${day}`);
    await page.getByText('This device looks on').waitFor();
    await page.getByRole('region', { name: 'Now', exact: true }).waitFor();
    for (const name of ['Pulled', 'Undo', 'Write down', 'Call the brewer', 'End the brew']) {
      expect(await page.getByRole('button', { name, exact: true }).count(), name).toBe(0);
    }
    expect(await page.getByRole('button', { name: /^Read/ }).count()).toBe(0);
    await expectFit(page, 'viewer', ['tablet', 'tablet-wide']);
  });

  it('on the wall has digits of 25 mm, for three metres', async () => {
    const { page } = wall;
    keepFaults('state-wall', page);
    await page.getByRole('button', { name: 'For the wall' }).click();
    await expectFit(page, 'wall', ['tablet', 'tablet-wide']);
    const heights = await page.evaluate(() => {
      const pen = document.createElement('canvas').getContext('2d');
      return [...document.querySelectorAll('.wall .do-how b, .wall .do-left span')].map((el) => {
        if (pen === null) throw new Error('this browser draws nothing');
        const { fontWeight, fontSize, fontFamily } = getComputedStyle(el);
        pen.font = `${fontWeight} ${fontSize} ${fontFamily}`;
        return pen.measureText('7').actualBoundingBoxAscent;
      });
    });
    expect(heights.length).toBeGreaterThan(0);
    // CSS millimetres, as the targets are measured in.
    for (const px of heights) expect((px * 25.4) / 96).toBeGreaterThanOrEqual(25);
  });
});

describe('an interruption', () => {
  it('is met with where the day stands, and the value half typed is kept', async () => {
    const { page } = tablet;
    keepFaults('state-reentry', page);
    await maren.type('64');
    await openHash(page, '#/today');
    await page.getByRole('navigation', { name: 'Headings' }).waitFor();
    await phone.page.getByRole('textbox', { name: 'Note' }).fill('Yeast came');
    await phone.page.getByRole('button', { name: 'Write down' }).click();
    await clock.pass(12);
    await openHash(page, day);
    const back = page.getByRole('region', { name: 'Where you are' });
    await back.getByText(/^away 1[12] min/).waitFor();
    await back.getByText('You are here: ').waitFor();
    await back.getByText(/^Meanwhile .* by H/).waitFor();
    await back.getByText(/^Half typed: 64 °C/).waitFor();
    await expectFit(page, 'reentry');
    await back.getByRole('button', { name: 'Go on' }).click();
    await back.waitFor({ state: 'detached' });
    await maren.takeReading('64');
    expect(maren.taps.at(-1)).toEqual({ did: 'read', text: '64', unit: '°C' });
  });
});

describe('wet glass', () => {
  it('is wiped without pressing anything, and opened in two corners', async () => {
    const { page } = tablet;
    keepFaults('state-wipe', page);
    const entries = page.locator('.entries li');
    const before = await entries.count();
    await page.getByRole('button', { name: 'Wipe the screen' }).click();
    const lock = page.getByRole('dialog', { name: 'Locked for wiping' });
    await lock.waitFor();
    for (const at of [200, 400, 600]) await page.mouse.click(at, 300);
    await page.keyboard.press('PageDown');
    await expectFit(page, 'wipe');
    expect(await entries.count()).toBe(before);
    await lock.getByRole('button', { name: 'Open' }).click();
    await lock.getByRole('button', { name: 'And here: open' }).click();
    await lock.waitFor({ state: 'detached' });
  });

  it('takes a finger for a finger, and neither a drop nor two fingers', async () => {
    const { page } = tablet;
    keepFaults('state-drops', page);
    const more = page.getByRole('button', { name: /^0\.1 more$/ });
    const value = page.getByRole('button', { name: /Show digits$/ });
    const shown = async () => (await value.getAttribute('aria-label')) ?? '';
    await more.scrollIntoViewIfNeeded();
    const box = await more.boundingBox();
    if (box === null) throw new Error('the pad is not on the page');
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const touches = await page.context().newCDPSession(page);
    const touch = async (heldMs: number, points: readonly { x: number; y: number }[]) => {
      await touches.send('Input.dispatchTouchEvent', {
        type: 'touchStart',
        touchPoints: points.map((p, id) => ({ ...p, id })),
      });
      // Held in real time: the browser passes over times that are told to it.
      await new Promise((held) => setTimeout(held, heldMs));
      await touches.send('Input.dispatchTouchEvent', {
        type: 'touchEnd',
        touchPoints: [],
      });
    };
    const before = await shown();
    await touch(30, [at]);
    await touch(200, [at, { x: at.x, y: at.y - 300 }]);
    expect(await shown()).toBe(before);
    await touch(200, [at]);
    await expect.poll(shown).not.toBe(before);
  });
});

describe('no device', () => {
  it('had anything to complain of', () => {
    expect([...tablet.faults(), ...phone.faults(), ...wall.faults()]).toEqual([]);
  });
});
