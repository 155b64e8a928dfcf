import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';

/** The sizes every page is looked at; the wide tablet is the one that hangs in the brewhouse. */
export const SIZES = {
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  'tablet-wide': { width: 1180, height: 820 },
  desktop: { width: 1440, height: 900 },
} as const;

export type Size = keyof typeof SIZES;

/** A page open in a browser profile of its own, as one device would have it. */
export interface Device {
  readonly page: Page;
  /** Errors of the page so far: thrown, logged, and requests the server refused. */
  readonly faults: () => readonly string[];
  /** Forgets the faults, where a journey has just provoked them on purpose. */
  readonly forgiveFaults: () => void;
  readonly close: () => Promise<void>;
}

/** What takes longer than this to come is not coming; shared cores are slow. */
const LONGEST_WAIT_MS = 20_000;

/**
 * @param size  of the window; a phone and a tablet are touched, a desktop is pointed at
 */
export async function openDevice(
  browser: Browser,
  size: Size,
  options: BrowserContextOptions = {},
): Promise<Device> {
  const hasTouch = size !== 'desktop';
  const context = await browser.newContext({
    viewport: SIZES[size],
    hasTouch,
    // Dates and clock times on the page are the same wherever the journeys are made.
    timezoneId: 'UTC',
    locale: 'en-GB',
    ...options,
  });
  context.setDefaultTimeout(LONGEST_WAIT_MS);
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(`thrown: ${error.stack ?? error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(`logged: ${message.text()}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 400) faults.push(`answered ${response.status()}: ${response.url()}`);
  });
  return {
    page,
    faults: () => faults,
    forgiveFaults: () => {
      faults.length = 0;
    },
    close: () => context.close(),
  };
}

const shots = fileURLToPath(new URL('../.shots/', import.meta.url));

/**
 * Keeps a picture of the whole page in .shots/, to be looked at by people.
 *
 * @param name  of the file, without its ending
 */
export async function keepPicture(page: Page, name: string): Promise<void> {
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: `${shots}${name}.png`, fullPage: true });
}
