import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type RunningServer, startServer } from '@ladlework/server';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchBrowser } from './browser.ts';
import { keepFaults } from './journey.ts';
import { keepPicture, openDevice } from './page.ts';

const dist = fileURLToPath(new URL('../apps/web/dist', import.meta.url));
const examples = fileURLToPath(new URL('../examples', import.meta.url));

let folder: string;
let server: RunningServer;
let browser: Browser;
let page: Page;

async function start(port: number): Promise<RunningServer> {
  const started = await startServer({
    dbPath: join(folder, 'log.sqlite'),
    webRoot: join(folder, 'page'),
    examplesRoot: examples,
    port,
  });
  if (!started.ok) throw new Error(started.message);
  return started;
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'ladlework-newer-'));
  cpSync(dist, join(folder, 'page'), { recursive: true });
  server = await start(0);
  browser = await launchBrowser();
  page = (await openDevice(browser, 'tablet-wide')).page;
  await page.goto(`${server.url}/#/kit/three-barrels`);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
  rmSync(folder, { recursive: true, force: true });
});

const newer = () => page.getByText('A newer version of this page is ready.');
const lookForNewer = () =>
  page.evaluate(async () => {
    await (await navigator.serviceWorker.getRegistration())?.update();
  });
const shells = () =>
  page.evaluate(async () => (await caches.keys()).filter((name) => name.startsWith('shell-')));

describe('a newer version of the page', () => {
  it('that is the same is none', async () => {
    await lookForNewer();
    await page.waitForTimeout(500);
    expect(await newer().count()).toBe(0);
    expect(await shells()).toHaveLength(1);
  });

  it('is told, and changes nothing in the middle of an entry', async () => {
    keepFaults('newer', page);
    await page.getByRole('textbox', { name: 'Name of the kit', exact: true }).fill('Half typed');
    const port = Number(new URL(server.url).port);
    await server.close();
    const at = (name: string) => join(folder, 'page', name);
    // As the next build would: a page of another content, named by another sum in the worker.
    const page2 = readFileSync(at('index.html'), 'utf8').replace('lang="en"', 'lang="en-GB"');
    writeFileSync(at('index.html'), page2);
    const worker = readFileSync(at('sw.js'), 'utf8');
    const changed = worker.replace(/shell-[0-9a-f]{16}/, 'shell-0123456789abcdef');
    expect(changed).not.toBe(worker);
    writeFileSync(at('sw.js'), changed);
    server = await start(port);
    await page.evaluate(() => Object.assign(globalThis, { sameDocument: true }));
    await lookForNewer();
    await newer().waitFor();
    await keepPicture(page, 'newer-version');
    await page.waitForTimeout(500);
    const still = () =>
      page.evaluate(() => (globalThis as { sameDocument?: boolean }).sameDocument === true);
    expect(await still()).toBe(true);
    // A reload of this tab is still the version it was: the other waits to be taken.
    expect(await page.locator('html').getAttribute('lang')).toBe('en');
    const name = page.getByRole('textbox', { name: 'Name of the kit', exact: true });
    expect(await name.inputValue()).toBe('Half typed');
  });

  it('is put in place when the brewer takes it, with what was half typed', async () => {
    keepFaults('newer-taken', page);
    await page.getByRole('button', { name: 'Take it now' }).click();
    await page.locator('html[lang="en-GB"]').waitFor();
    const name = page.getByRole('textbox', { name: 'Name of the kit', exact: true });
    await name.waitFor();
    expect(await name.inputValue()).toBe('Half typed');
    expect(await newer().count()).toBe(0);
    expect(await shells()).toContain('shell-0123456789abcdef');
    await server.close();
    await page.reload();
    await page.locator('html[lang="en-GB"]').waitFor();
    server = await start(Number(new URL(server.url).port));
  });
});
