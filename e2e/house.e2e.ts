import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { launchBrowser } from './browser.ts';
import { keepPicture, openDevice, SIZES, type Size } from './page.ts';
import { startTestServer, type TestServer } from './server.ts';

let browser: Browser;
let server: TestServer;

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startTestServer();
});

afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

describe.each(Object.keys(SIZES) as Size[])('the page on a %s', (size) => {
  it('opens without errors, named and usable by everybody', async () => {
    const device = await openDevice(browser, size);
    const response = await device.page.goto(server.url);
    expect(response?.status()).toBe(200);
    await device.page.getByRole('main').waitFor();
    expect(await device.page.title()).toMatch(/Ladlework/);
    await keepPicture(device.page, `house-${size}`);
    expect(await accessibilityFaults(device.page)).toEqual([]);
    expect(device.faults()).toEqual([]);
    await device.close();
  });
});
