import type { Browser, Request } from 'playwright-core';
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

describe('the first view', () => {
  it('travels in 250 kB before the engine worker', async () => {
    const device = await openDevice(browser, 'tablet', { serviceWorkers: 'block' });
    const requests: Request[] = [];
    device.page.on('requestfinished', (request) => requests.push(request));
    await device.page.goto(server.url);
    await device.page.getByRole('main').waitFor();
    const sizes = await Promise.all(
      requests
        .filter((request) => !/\/worker-[^/]*\.js$/.test(request.url()))
        .map(async (request) => (await request.sizes()).responseBodySize),
    );
    const bytes = sizes.reduce((sum, size) => sum + size, 0);
    expect(bytes).toBeGreaterThan(10_000);
    expect(bytes).toBeLessThan(250_000);
    await device.close();
  });
});
