import type { Locator, Page } from 'playwright-core';
import { type Brewer, brewer } from './brew-day.ts';
import type { BrewhouseClock } from './clock.ts';

/** A tap beside or after the mash, or of its card. */
export interface DayTap {
  readonly atMs: number;
  /** Name of the button. */
  readonly what: string;
}

/** Somebody who runs a day to its end: the mash by its card, everything else by the day's list. */
export interface DayHands {
  readonly taps: DayTap[];
  /** The mash of the brew on the page, and what is due beside it. */
  readonly mash: () => Promise<void>;
  /** Work until nothing is left, or until the page is as asked for. */
  readonly work: (there?: () => Promise<boolean>) => Promise<void>;
}

/** A day of more taps than this goes in circles. */
const MOST_TAPS = 260;
/** Longest wait without a look at the page [min]; work comes up some minutes before it is due. */
const LOOK_MIN = 10;

/**
 * Takes a day page over, the timetable's work too.
 *
 * @param page that stands at a running day
 */
export async function dayHands(page: Page, clock: BrewhouseClock): Promise<DayHands> {
  const taps: DayTap[] = [];
  const list = page.getByRole('list', { name: 'Beside the mash' });
  const main = page.getByRole('main');
  const over = page.getByRole('region', { name: 'Wort', exact: true });
  const gate = page.getByRole('region', { name: 'Before you begin' });
  const card: Brewer = await brewer(page, clock);

  /** Taps what is due, on the card or in the list; else tells how long until the next is [min]. */
  const besides = async (): Promise<{ tapped: boolean; inMin: number }> => {
    let inMin = LOOK_MIN;
    for (const item of [...(await over.all()), ...(await list.getByRole('listitem').all())]) {
      const text = (await item.textContent()) ?? '';
      const at = /(?:at|until) (\d\d):(\d\d)/.exec(text);
      if (at === null) continue;
      const left = minutesUntil(clock.nowMs(), Number(at[1]) * 60 + Number(at[2]));
      if (left > 0) {
        inMin = Math.min(inMin, left);
        continue;
      }
      const button = item.getByRole('button', { name: /: (begin|done)$/ });
      if ((await button.count()) === 0) continue;
      await press(button, (await button.getAttribute('aria-label')) ?? '');
      return { tapped: true, inMin: 0 };
    }
    return { tapped: false, inMin };
  };

  /** A tap counts when its line has gone or says something else. */
  const press = async (button: Locator, what: string) => {
    await button.click();
    taps.push({ atMs: clock.nowMs(), what });
    const same = main.getByRole('button', { name: what, exact: true });
    // A hard gate stands before some of the work; its answer belongs to the tap.
    const deadline = Date.now() + 20_000;
    while ((await same.count()) > 0 && Date.now() < deadline) {
      if (await gate.isVisible()) await gate.getByRole('button').last().click();
      else await page.waitForTimeout(100);
    }
    await same.waitFor({ state: 'detached' });
  };

  return {
    taps,
    mash: async () => {
      for (let n = 0; n < MOST_TAPS; n++) {
        if ((await card.card()) === undefined) return;
        if ((await besides()).tapped) continue;
        await card.next();
        const tap = card.taps.at(-1);
        if (tap?.did === 'begin' || tap?.did === 'finish')
          taps.push({ atMs: clock.nowMs(), what: `${tap.what}: ${tap.button}` });
      }
      throw new Error(`the mash did not end in ${MOST_TAPS} taps: ${JSON.stringify(taps)}`);
    },
    work: async (there) => {
      for (let n = 0; n < MOST_TAPS; n++) {
        if (there !== undefined && (await there())) return;
        const { tapped, inMin } = await besides();
        if (tapped) continue;
        if (inMin === LOOK_MIN && (await list.or(over).getByRole('button').count()) === 0) return;
        await clock.pass(Math.max(0.5, inMin));
      }
      throw new Error(`the day did not end in ${MOST_TAPS} looks: ${JSON.stringify(taps)}`);
    },
  };
}

/** Minutes to a clock time of today or of the night after it; none when it has passed. */
function minutesUntil(nowMs: number, clockMin: number): number {
  const left = clockMin - (nowMs % 86_400_000) / 60_000;
  return left < -720 ? left + 1440 : left;
}
