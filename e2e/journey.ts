import type { Browser, Page } from 'playwright-core';
import { onTestFailed } from 'vitest';
import { launchBrowser } from './browser.ts';
import { keepPicture } from './page.ts';
import { startTestServer, type TestServer } from './server.ts';

/** A browser and a server with the invented brewery, for one file of journeys. */
export interface Stage {
  readonly browser: Browser;
  readonly server: TestServer;
  readonly end: () => Promise<void>;
}

export async function setStage(): Promise<Stage> {
  const browser = await launchBrowser();
  try {
    const server = await startTestServer();
    return {
      browser,
      server,
      end: async () => {
        await browser.close();
        await server.stop();
      },
    };
  } catch (error) {
    await browser.close();
    throw error;
  }
}

/** The part of a page under a heading. */
export function sectionOf(page: Page, heading: string) {
  return page.locator('section').filter({ has: page.getByRole('heading', { name: heading }) });
}

/** A chapter that fails leaves a picture of where each of its pages stood. */
export function keepFaults(name: string, ...pages: readonly Page[]): void {
  onTestFailed(async () => {
    for (const [i, page] of pages.entries()) await keepPicture(page, `fault-${name}-${i + 1}`);
  });
}
