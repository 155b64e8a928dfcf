import { readFileSync } from 'node:fs';
import type { LogEvent } from '@ladlework/log';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { type BrewhouseClock, brewhouseClock, nextMorningMs } from './clock.ts';
import { keepFaults, type Stage, setStage } from './journey.ts';
import { serverLog } from './log-check.ts';
import { sticksOut } from './look.ts';
import { type Device, keepPicture, openDevice } from './page.ts';
import { type ReadPage, readPdf, untidy } from './read-pdf.ts';

const BEER = 'Millrace Lager';

let stage: Stage;
let clock: BrewhouseClock;
let device: Device;
let page: Page;
/** Hash of the brew's plan. */
let plan: string;
/** Codes of the boxes in the order they are printed in. */
let codes: string[];

beforeAll(async () => {
  stage = await setStage();
  clock = brewhouseClock(nextMorningMs());
  device = await openDevice(stage.browser, 'tablet-wide', { acceptDownloads: true });
  page = device.page;
  await clock.join(page);
  await page.goto(stage.server.url);
  await page.goto(`${stage.server.url}/#/brews/new`);
  await page.getByRole('combobox', { name: 'Beer' }).selectOption(BEER);
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  plan = new URL(page.url()).hash;
});

afterAll(() => stage?.end());

const sheets = () => page.locator('.paper-sheet svg');

/** The PDF the page makes on this device. */
async function savedPdf(): Promise<ReadPage[]> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as PDF' }).click(),
  ]);
  return readPdf(readFileSync(await download.path()));
}

function codesOn(sheet: ReadPage): string[] {
  return sheet.words
    .filter((w) => /^[A-Z]\d+[A-Z]$/.test(w.text))
    .sort((a, b) => (Math.abs(a.y - b.y) < 1.5 ? a.x - b.x : a.y - b.y))
    .map((w) => w.text);
}

/** One thing written on the paper of this day. */
interface Written {
  readonly code: string;
  readonly typed: readonly string[];
}

describe('the day on paper', () => {
  it('is drawn on the page: the sheet and a chart for each return', async () => {
    keepFaults('paper', page);
    await page.getByRole('link', { name: 'Paper', exact: true }).click();
    await page.getByText('The brew sheet, then 2 ruler charts.').waitFor();
    expect(await sheets().count()).toBe(3);
    await keepPicture(page, 'paper-tablet-wide');
    expect(await sticksOut(page)).toEqual([]);
    expect(await accessibilityFaults(page)).toEqual([]);
  });

  it('is a PDF made on the device, without the network', async () => {
    keepFaults('paper-pdf', page);
    // The shell is kept once the service worker has taken the page over.
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.context().setOffline(true);
    try {
      const pages = await savedPdf();
      expect(pages).toHaveLength(3);
      for (const p of pages) expect(untidy(p)).toEqual([]);
      codes = codesOn(pages[0] as ReadPage);
      expect(codes.length).toBeGreaterThan(50);
      expect(new Set(codes).size).toBe(codes.length);
    } finally {
      await page.context().setOffline(false);
      device.forgiveFaults();
    }
  });

  it.each([
    ['A4', 210, 297],
    ['Letter', 215.9, 279.4],
  ])('prints on %s, each page on one of its own', async (name, width, height) => {
    keepFaults(`paper-print-${name}`, page);
    await page.getByRole('button', { name, exact: true }).click();
    await page.getByText('The brew sheet, then 2 ruler charts.').waitFor();
    await page.waitForFunction((ratio) => {
      const box = document.querySelector('.paper-sheet svg')?.getAttribute('viewBox') ?? '';
      return box.endsWith(ratio);
    }, `${width} ${height}`);
    const printed = await readPdf(await page.pdf({ preferCSSPageSize: true }));
    expect(printed).toHaveLength(3);
    for (const p of printed) {
      expect(p.widthMm).toBeCloseTo(width, 0);
      expect(p.heightMm).toBeCloseTo(height, 0);
    }
    // A browser may hand one word over in pieces; the codes stand there all the same.
    const said = printed[0]?.words.map((w) => w.text).join(' ') ?? '';
    for (const code of codes) expect(said).toContain(code);
  });
});

describe('paper typed back in', () => {
  /** What was written on this day, box by box, in the order of the sheet. */
  const written: Written[] = [];
  const code = () => page.getByRole('textbox', { name: 'Code of the box' });
  const counted = () => page.getByText(/\d+ of \d+ boxes are in the log/);

  it('names the box meant when a code is wrong', async () => {
    keepFaults('paper-wrong-code', page);
    // The day is over: everything on paper is behind us.
    await clock.pass(14 * 60);
    await page.getByRole('link', { name: 'Type paper in' }).click();
    const landing = codes.find((c) => c.startsWith('P1')) as string;
    const wrong = `${landing.slice(0, 2)}${landing.endsWith('A') ? 'C' : 'A'}`;
    await code().fill(wrong);
    await page.keyboard.press('Enter');
    const alert = page.getByRole('alert');
    await alert.getByText(`${wrong} is no box of this sheet`).waitFor();
    await alert.getByRole('button', { name: `${landing}: Mash tun temperature` }).waitFor();
    await keepPicture(page, 'paper-in-wrong');
  });

  it('keeps what is half typed over a reload and a look at another box', async () => {
    keepFaults('paper-half', page);
    const landing = codes.find((c) => c.startsWith('P1')) as string;
    const figure = () => page.locator('.paper-in .fields input').nth(1);
    await code().fill(landing);
    await figure().fill('71.');
    await page.reload();
    await code().fill(landing);
    await expect.poll(() => figure().inputValue()).toBe('71.');
    await code().fill(codes[0] as string);
    await code().fill(landing);
    await expect.poll(() => figure().inputValue()).toBe('71.');
    // As it stood before anybody began to type.
    await figure().fill('');
  });

  it('takes the whole sheet by keyboard alone, box after box', async () => {
    keepFaults('paper-in', page);
    await code().fill(codes[0] as string);
    for (const box of codes) {
      // The page has put the next box of the sheet there; nothing but Enter is needed for it.
      expect((await code().inputValue()).toUpperCase()).toBe(box);
      await code().press('Enter');
      const fields = page.locator('form.paper-in input:not(#box-code)');
      const typed: string[] = [];
      for (const field of await fields.all()) {
        const label =
          (await field.evaluate((el) => (el as HTMLInputElement).labels?.[0]?.textContent)) ?? '';
        const value = valueFor(box, label, written.length);
        if (value !== undefined) await page.keyboard.type(value);
        typed.push(await field.inputValue());
        await page.keyboard.press('Enter');
      }
      written.push({ code: box, typed });
      await page.getByRole('button', { name: `Undo ${box}` }).waitFor();
    }
    await keepPicture(page, 'paper-in-done');
    expect(await sticksOut(page)).toEqual([]);
    expect(await accessibilityFaults(page)).toEqual([]);
  });

  it('takes the last one back, and keeps it again', async () => {
    keepFaults('paper-in-undo', page);
    const last = codes.at(-1) as string;
    await page.getByRole('button', { name: `Undo ${last}` }).click();
    await page.getByRole('button', { name: `Undo ${codes.at(-2)}` }).waitFor();
    expect((await code().inputValue()).toUpperCase()).toBe(last);
    await code().press('Enter');
    await page.keyboard.type('hops late by 4 min');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: `Undo ${last}` }).waitFor();
    written[written.length - 1] = {
      code: last,
      typed: ['hops late by 4 min', written.at(-1)?.typed.at(-1) ?? ''],
    };
  });

  it('survives a reload: it was on disk before it was said', async () => {
    const before = await counted().textContent();
    await page.reload();
    await counted().waitFor();
    expect(await counted().textContent()).toBe(before);
  });

  it('is in the log as it was on paper, with the time of both reading and entry', async () => {
    const events = await brewEvents();
    const gone = new Set(events.flatMap((e) => (e.type === 'withdrawn' ? [e.corrects] : [])));
    const standing = events.filter((e) => e.type !== 'withdrawn' && !gone.has(e.id));
    for (const { code: box, typed } of written) {
      const clockTyped = typed.at(-1) as string;
      const own = standing.filter((e) => saysBox(e, box, typed));
      expect(own.length, `${box} ${typed.join(', ')}`).toBeGreaterThanOrEqual(1);
      const [first] = own as [LogEvent, ...LogEvent[]];
      expect(new Date(first.readAtMs).toISOString().slice(11, 16), box).toBe(
        clockTyped.padStart(5, '0'),
      );
      // Hours lie between paper and thumb, and the log says so.
      expect(first.enteredAtMs - first.readAtMs, box).toBeGreaterThan(3_600_000);
    }
    // Nothing beside it: each event belongs to a box, or follows from one as a tap's would.
    const beside = standing.filter(
      (e) => !written.some((w) => saysBox(e, w.code, w.typed)) && e.type !== 'brew-planned',
    );
    expect(
      beside.map((e) => e.type).filter((t) => t !== 'move-begun' && t !== 'move-done'),
    ).toEqual([]);
    expect(device.faults()).toEqual([]);
  });
});

/** What the brewer wrote in a box; nothing where what stands there already is right. */
function valueFor(box: string, label: string, n: number): string | undefined {
  if (label.startsWith('clock') || label === 'date') return undefined;
  if (box.startsWith('N')) return `note ${n}`;
  if (label.startsWith('portions')) return '4';
  if (label.startsWith('blue')) return 'n';
  if (label.includes('pH')) return '5.42';
  if (label.startsWith('litres')) return '310';
  if (label.startsWith('extract')) return '12.4';
  if (label.startsWith('at,')) return '95';
  return (60 + n / 10).toFixed(1);
}

async function brewEvents(): Promise<LogEvent[]> {
  const id = decodeURIComponent(plan.split('/')[2] ?? '');
  const settled = async () =>
    (await serverLog(stage.server.url))
      .map((p) => p.event)
      .filter((e) => e.stream === `brew:${id}`);
  let last = -1;
  for (;;) {
    const events = await settled();
    if (events.length === last) return events;
    last = events.length;
    await new Promise((resolve) => setTimeout(resolve, 700));
  }
}

/** Does this event say what was written in that box? */
function saysBox(e: LogEvent, box: string, typed: readonly string[]): boolean {
  const n = Number(/\d+/.exec(box)?.[0]);
  const clockSaid = new Date(e.readAtMs).toISOString().slice(11, 16);
  if (clockSaid !== (typed.at(-1) ?? '').padStart(5, '0')) return false;
  switch (box[0]) {
    case 'A':
      return e.type === 'brew-started';
    case 'M':
      return e.type === 'move-begun';
    case 'D':
      return e.type === 'move-done';
    case 'L':
      return e.type === 'ladles-returned' && e.data.portions === Number(typed[0]);
    case 'T':
    case 'P':
    case 'H':
      return e.type === 'reading' && e.data.text === typed[0];
    case 'J':
      return e.type === 'reading' && e.data.what === 'iodine' && e.data.value === 0;
    case 'K':
      return e.type === 'gate-confirmed';
    case 'W':
      return e.type === 'wort-read' && n >= 1;
    case 'N':
      return e.type === 'note' && e.data.text === typed[0];
    default:
      throw new Error(`no box ${box} is known`);
  }
}
