import type { Locator, Page } from 'playwright-core';
import type { BrewhouseClock } from './clock.ts';

/** What a brewer tapped, as it must be found in the log again. */
export type Tap =
  | { readonly did: 'begin' | 'finish'; readonly what: string; readonly button: string }
  | { readonly did: 'read'; readonly text: string; readonly unit: string }
  | { readonly did: 'portions'; readonly count: number }
  | { readonly did: 'pick'; readonly text: string }
  | { readonly did: 'gate'; readonly code: 'confirmed' }
  | { readonly did: 'mend' }
  | { readonly did: 'note'; readonly text: string }
  | { readonly did: 'end' };

/** The top of the day page, as somebody at the kettle sees it. */
export interface Card {
  readonly key: string;
  readonly what: string;
  /** On the large button. */
  readonly button: string;
}

/** Somebody at a day page. */
export interface Brewer {
  readonly taps: Tap[];
  /** The thing to do now, or nothing when every move is done. */
  readonly card: () => Promise<Card | undefined>;
  /** Waits until the card's move is due, and taps its large button. */
  readonly next: () => Promise<void>;
  /** Goes on with the day until the card is as asked for. */
  readonly playUntil: (there: (card: Card) => boolean) => Promise<void>;
  /** Goes on with the day until every move is done. */
  readonly playToTheEnd: () => Promise<void>;
  /** Opens the digits of the pad and types, without writing down. */
  readonly type: (digits: string) => Promise<void>;
  /** Types a reading of what the pad stands at, and writes it down. */
  readonly read: (digits: string) => Promise<void>;
  /** Writes down what stands on the pad. */
  readonly takeReading: (text: string) => Promise<void>;
  readonly portions: (count: 1 | 3) => Promise<void>;
  /** Picks a way out of a miss. */
  readonly pick: (way: Locator) => Promise<void>;
  readonly mended: () => Promise<void>;
  readonly note: (text: string) => Promise<void>;
  readonly end: () => Promise<void>;
}

const BEGINS = ['Fill', 'Heat', 'Hold', 'Boil', 'Warm', 'Mash in', 'Rest', 'Pull', 'Return'];
const ALSO_BEGINS = ['Pour', 'Rinse', 'Stir'];
const ENDS = ['Done', 'Filled', 'Mashed in', 'Poured', 'Pulled', 'Returned'];
const LARGE = new RegExp(`^(${[...BEGINS, ...ALSO_BEGINS, ...ENDS].join('|')})$`);
/** A day of more taps than this goes in circles. */
const MOST_TAPS = 120;

/**
 * Takes the day page over. Alarms are answered as they come.
 *
 * @param page  that stands at a running day
 */
export async function brewer(page: Page, clock: BrewhouseClock): Promise<Brewer> {
  const taps: Tap[] = [];
  const now = page.getByRole('region', { name: 'Now', exact: true });
  const large = now.getByRole('button', { name: LARGE });
  const end = page.getByRole('main').getByRole('button', { name: 'End', exact: true });
  const log = page.locator('section').filter({ has: page.getByRole('heading', { name: 'Log' }) });
  const entries = log.getByRole('listitem');
  const alarm = alarmOn(page);
  const gate = page.getByRole('region', { name: 'Before you begin' });
  await page.addLocatorHandler(
    alarm,
    async () => {
      while (await alarm.isVisible()) {
        // One alarm may take the place of another, or end by itself, while it is pressed.
        const seen = alarm.getByRole('button', { name: 'Seen' });
        await seen.click({ timeout: 3000 }).catch(async (fault: unknown) => {
          if ((await seen.isVisible()) && (await seen.isDisabled())) throw fault;
        });
      }
    },
    { noWaitAfter: true },
  );

  /** Taps, and waits until everything the tap wrote stands in the log of the page. */
  const tap = async (button: Locator, done: Tap) => {
    const before = await entries.count();
    await button.click();
    // A hard gate stands before a few moves: its answer is a tap of its own.
    await entries.nth(before).or(gate).first().waitFor({ state: 'attached' });
    if (await gate.isVisible()) {
      taps.push({ did: 'gate', code: 'confirmed' });
      await gate.getByRole('button').last().click();
      await entries.nth(before + 1).waitFor({ state: 'attached' });
    }
    taps.push(done);
    await entries.nth(before).waitFor({ state: 'attached' });
    await quiet(entries);
  };

  const card = async (): Promise<Card | undefined> => {
    await large.or(end).first().waitFor();
    if (await end.isVisible()) return undefined;
    const lines = now.getByRole('paragraph');
    const [key, what, button] = await Promise.all(
      [lines.nth(0), lines.nth(1), large].map(async (part) => (await part.textContent()) ?? ''),
    );
    return { key: key ?? '', what: what ?? '', button: button ?? '' };
  };

  const next = async () => {
    const first = await card();
    if (first === undefined) throw new Error('every move is done; there is nothing to tap');
    await clock.pass(minutesLeft(first.key));
    const { what, button } = (await card()) ?? first;
    const did = ENDS.includes(button) ? 'finish' : 'begin';
    // During a return the card guides, and its words move; what was begun is what is finished.
    const guided = button === 'Returned';
    const begun = taps.reduce((last, t) => (t.did === 'begin' ? t.what : last), '');
    const shown = (guided ? now : now.filter({ hasText: what })).getByRole('button', {
      name: button,
      exact: true,
    });
    await tap(shown, { did, what: guided ? begun : what, button });
  };

  const play = async (there: (card: Card | undefined) => boolean) => {
    for (let n = 0; n < MOST_TAPS; n++) {
      if (there(await card())) return;
      await next();
    }
    throw new Error(`the day did not get there in ${MOST_TAPS} taps: ${JSON.stringify(taps)}`);
  };

  const pad = () => page.getByRole('button', { name: /Show digits$/ });
  const unit = async () => {
    const value = page.getByRole('button', { name: /Show (digits|steps)$/ });
    const said = (await value.getAttribute('aria-label')) ?? '';
    return / (\S+)\. Show/.exec(said)?.[1] ?? '';
  };
  const type = async (digits: string) => {
    await pad().click();
    for (const digit of digits) {
      await page.getByRole('button', { name: digit, exact: true }).click();
    }
  };
  const takeReading = async (text: string) => {
    const read = { did: 'read', text, unit: await unit() } as const;
    await tap(page.getByRole('button', { name: /^Read/ }), read);
  };

  return {
    taps,
    card,
    next,
    playUntil: (there) => play((at) => at !== undefined && there(at)),
    playToTheEnd: () => play((at) => at === undefined),
    type,
    takeReading,
    read: async (digits) => {
      await type(digits);
      await takeReading(digits);
    },
    portions: (count) =>
      tap(now.getByRole('button', { name: count === 3 ? '+3' : / in$/ }), {
        did: 'portions',
        count,
      }),
    pick: async (way) => {
      const text = ((await way.getAttribute('aria-label')) ?? '').replace(/^Pick: /, '');
      await tap(way, { did: 'pick', text });
    },
    mended: () => tap(now.getByRole('button', { name: 'Done', exact: true }), { did: 'mend' }),
    note: async (text) => {
      await page.getByRole('textbox', { name: 'Note' }).fill(text);
      await tap(page.getByRole('button', { name: 'Write down' }), { did: 'note', text });
    },
    end: async () => {
      await end.click();
      taps.push({ did: 'end' });
    },
  };
}

/** An alarm of the day; a call from another device is answered by hand. */
export const alarmOn = (page: Page): Locator => page.getByRole('alertdialog', { name: /^Alarm: / });

/** Waits until no more entries come of a tap; one tap writes up to four, one after another. */
async function quiet(entries: Locator): Promise<void> {
  for (let last = -1, same = 0; same < 3; ) {
    const count = await entries.count();
    same = count === last ? same + 1 : 0;
    last = count;
    await entries.page().evaluate(() => new Promise(requestAnimationFrame));
  }
}

/** Minutes until a card is due: "until 07:05, 1 h 05 left", "at 07:41, in 30 s". */
function minutesLeft(key: string): number {
  const left = /(?:in|,) (?:(\d+) h )?(\d+)( min| s)?(?: left)?$/.exec(key);
  if (left === null) return 0;
  const [, hours = '0', rest = '0', unit = ' min'] = left;
  return Number(hours) * 60 + (unit === ' s' ? Number(rest) / 60 : Number(rest));
}
