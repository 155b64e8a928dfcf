import type { Page } from 'playwright-core';

/** A page with more stops than this goes in circles. */
const MOST_STOPS = 120;

/**
 * What somebody without a pointer cannot do on a page: targets the tab key never comes to, and
 * stops where nothing shows that it stands there.
 *
 * @returns one line per fault
 */
export async function keyboardFaults(page: Page): Promise<string[]> {
  const wanted = await page.evaluate(() => {
    const modal = document.querySelector('[aria-modal="true"]') ?? document;
    const targets = [...modal.querySelectorAll('button, a[href], input, select, textarea, summary')]
      .filter((el) => el.checkVisibility({ visibilityProperty: true, opacityProperty: true }))
      .filter((el) => !el.matches(':disabled, [tabindex="-1"]'));
    targets.forEach((el, i) => {
      el.setAttribute('data-stop', String(i));
    });
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    return targets.map((el) =>
      (el.getAttribute('aria-label') ?? el.textContent ?? '').slice(0, 50),
    );
  });
  if (wanted.length === 0) throw new Error('there is nothing to press on this page');
  const reached = new Set<string>();
  const faults: string[] = [];
  for (let n = 0; n < MOST_STOPS && reached.size < wanted.length; n++) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const el = document.activeElement;
      const id = el?.getAttribute('data-stop');
      if (!el || id === null || id === undefined) return undefined;
      const { outlineStyle, outlineWidth } = getComputedStyle(el);
      return { id, shown: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2 };
    });
    if (stop === undefined || reached.has(stop.id)) continue;
    reached.add(stop.id);
    if (!stop.shown)
      faults.push(`"${wanted[Number(stop.id)]}" does not show that it has the focus`);
  }
  wanted.forEach((name, i) => {
    if (!reached.has(String(i))) faults.push(`the tab key never comes to "${name}"`);
  });
  await page.evaluate(() => {
    for (const el of document.querySelectorAll('[data-stop]')) el.removeAttribute('data-stop');
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  });
  return faults;
}
