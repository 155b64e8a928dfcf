import type { Page, Route } from 'playwright-core';

/** The time of a brewhouse, which a journey may let pass as fast as it likes. */
export interface BrewhouseClock {
  /** Brewhouse time, epoch ms. */
  readonly nowMs: () => number;
  /**
   * Sets a device by this clock; before its page is opened.
   *
   * @param offMs  how far its own clock is off [ms]; fast is positive
   */
  readonly join: (page: Page, offMs?: number) => Promise<void>;
  /** Goes on with another page of a device that has joined; one that was shut is let go. */
  readonly follow: (page: Page) => void;
  /** Lets time pass on every device. */
  readonly pass: (minutes: number) => Promise<void>;
}

/**
 * Devices and server keep one time, as they do in a brewhouse: the server's own clock cannot be
 * moved, so its answer to what time it is is moved on its way to the page.
 *
 * @param startMs  brewhouse time to begin with, epoch ms; not before now, or the examples sown at
 *   the server's start would lie in the future
 */
export function brewhouseClock(startMs: number): BrewhouseClock {
  let aheadMs = startMs - Date.now();
  let pages: Page[] = [];
  const nowMs = () => Date.now() + aheadMs;
  const answerTime = async (route: Route) => {
    // A dead server must stay silent; only a living one's answer is moved.
    const response = await route.fetch().catch(() => undefined);
    if (response === undefined) await route.abort('connectionrefused');
    else await route.fulfill({ response, json: { nowMs: nowMs() } });
  };
  return {
    nowMs,
    join: async (page, offMs = 0) => {
      await page.clock.install({ time: nowMs() + offMs });
      await page.context().route('**/api/time', answerTime);
      pages.push(page);
    },
    follow: (page) => {
      pages = [...pages.filter((p) => !p.isClosed()), page];
    },
    pass: async (minutes) => {
      const ms = Math.round(minutes * 60_000);
      aheadMs += ms;
      await Promise.all(
        pages.map(async (page) => {
          await page.clock.fastForward(ms);
          await page.evaluate(twoFrames);
        }),
      );
    },
  };
}

/** Until what the clock moved has been drawn. */
const twoFrames = () =>
  new Promise<void>((drawn) => {
    requestAnimationFrame(() => requestAnimationFrame(() => drawn()));
  });

/** Next 06:00 UTC, when the invented brewery begins its days. */
export function nextMorningMs(): number {
  const tomorrow = new Date(Date.now() + 24 * 3_600_000);
  return Date.UTC(tomorrow.getUTCFullYear(), tomorrow.getUTCMonth(), tomorrow.getUTCDate(), 6);
}
