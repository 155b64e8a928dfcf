/** What can be measured of a drawn page. */
import type { Page } from 'playwright-core';

/** Wet gloves: a target in CSS millimetres. [design: 20 mm with 5 mm between] */
const TARGET_PX = (20 * 96) / 25.4;
const GAP_PX = (5 * 96) / 25.4;
/** Rounding of a laid-out box [px]. */
const SLACK_PX = 0.5;

/** Parts of the page that stick out at the side, so that the whole page would scroll sideways. */
export function sticksOut(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    const scrollers = [document.documentElement, ...document.querySelectorAll('main')];
    return scrollers
      .filter((el) => el.scrollWidth > el.clientWidth + 1)
      .map((el) => {
        const culprits = [...el.querySelectorAll('*')]
          .filter((part) => part.getBoundingClientRect().right > wide + 1)
          .map((part) => `${part.tagName} "${(part.textContent ?? '').slice(0, 40)}"`);
        return `${el.tagName} is ${el.scrollWidth} px in ${el.clientWidth}: ${culprits.slice(0, 3).join(', ')}`;
      });
  });
}

/**
 * Targets too small or too close for wet gloves. Distances count between targets of one scrolling
 * part of the page; what slides under a fixed bar is not pressed by mistake.
 *
 * @returns one line per fault: which target, how large, or how far from which
 */
export async function targetFaults(page: Page): Promise<string[]> {
  const targets = await page.evaluate(() =>
    [...document.querySelectorAll('button, a[href], input, select, textarea, summary')]
      .filter((el) => el.checkVisibility({ visibilityProperty: true, opacityProperty: true }))
      .map((el) => {
        const { left, top, right, bottom } = el.getBoundingClientRect();
        const part = el.closest('main, header, footer, nav, [role="alertdialog"]');
        const name = el.getAttribute('aria-label') ?? el.textContent ?? el.tagName;
        return { name: name.slice(0, 50), part: part?.tagName ?? '', left, top, right, bottom };
      }),
  );
  if (targets.length === 0) throw new Error('there is nothing to press on this page');
  const faults = targets
    .filter((t) => Math.min(t.right - t.left, t.bottom - t.top) < TARGET_PX - SLACK_PX)
    .map(
      (t) => `"${t.name}" is ${Math.round(t.right - t.left)} x ${Math.round(t.bottom - t.top)} px`,
    );
  for (const [i, a] of targets.entries()) {
    for (const b of targets.slice(i + 1)) {
      if (a.part !== b.part) continue;
      const across = Math.max(b.left - a.right, a.left - b.right);
      const down = Math.max(b.top - a.bottom, a.top - b.bottom);
      const gap = Math.max(across, down);
      if (gap < GAP_PX - SLACK_PX) {
        faults.push(`"${a.name}" and "${b.name}" are ${Math.round(gap)} px apart`);
      }
    }
  }
  return faults;
}

/**
 * Text with less contrast than asked for, by the colours the browser has computed.
 *
 * @param least  ratio of WCAG 2.2, 1 to 21
 * @returns one line per text and colours
 */
export async function faintText(page: Page, least: number): Promise<string[]> {
  const pairs = await page.evaluate(() => {
    const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
    const read = (colour: string): [number, number, number, number] => {
      if (canvas === null) throw new Error('this browser draws nothing');
      canvas.clearRect(0, 0, 1, 1);
      canvas.fillStyle = colour;
      canvas.fillRect(0, 0, 1, 1);
      const [r = 0, g = 0, b = 0, a = 0] = canvas.getImageData(0, 0, 1, 1).data;
      return [r, g, b, a / 255];
    };
    const groundOf = (from: Element | null): [number, number, number] => {
      for (let el = from; el !== null; el = el.parentElement) {
        const [r, g, b, a] = read(getComputedStyle(el).backgroundColor);
        if (a > 0.99) return [r, g, b];
      }
      return [255, 255, 255];
    };
    /** A word on the score may stand on a bar drawn before it. */
    const barUnder = (el: SVGElement): [number, number, number] | undefined => {
      const box = el.getBoundingClientRect();
      const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
      const bars = [...(el.ownerSVGElement?.querySelectorAll('rect') ?? [])].filter((bar) => {
        const { left, top, right, bottom } = bar.getBoundingClientRect();
        const before = bar.compareDocumentPosition(el) & Node.DOCUMENT_POSITION_FOLLOWING;
        return before !== 0 && x > left && x < right && y > top && y < bottom;
      });
      const [r, g, b, a] = read(
        bars.length > 0 ? getComputedStyle(bars.at(-1) as Element).fill : '#0000',
      );
      return a > 0.99 ? [r, g, b] : undefined;
    };
    const found = new Map<string, { text: string; ink: number[]; ground: number[] }>();
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node !== null; node = walk.nextNode()) {
      const el = node.parentElement;
      const text = (node.textContent ?? '').trim();
      if (el === null || text === '' || !el.checkVisibility({ visibilityProperty: true })) continue;
      if (el.closest('[aria-hidden="true"], :disabled') !== null) continue;
      const style = getComputedStyle(el);
      const ink = read(el instanceof SVGElement ? style.fill : style.color);
      const ground = (el instanceof SVGElement ? barUnder(el) : undefined) ?? groundOf(el);
      const mixed = ink.slice(0, 3).map((c, i) => c * ink[3] + (ground[i] ?? 0) * (1 - ink[3]));
      const key = `${mixed} ${ground}`;
      if (!found.has(key)) found.set(key, { text: text.slice(0, 40), ink: mixed, ground });
    }
    return [...found.values()];
  });
  if (pairs.length === 0) throw new Error('there is nothing to read on this page');
  return pairs
    .map(({ text, ink, ground }) => ({ text, ink, ground, ratio: contrast(ink, ground) }))
    .filter(({ ratio }) => ratio < least)
    .map(
      ({ text, ink, ground, ratio }) =>
        `"${text}": ${ratio.toFixed(2)}:1, rgb(${ink.map(Math.round)}) on rgb(${ground})`,
    );
}

/** Contrast ratio of two sRGB colours, 0 to 255. @source WCAG 2.2, definition of contrast ratio */
function contrast(a: readonly number[], b: readonly number[]): number {
  const [light, dark] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}

/** @source WCAG 2.2, definition of relative luminance */
function luminance(rgb: readonly number[]): number {
  const [r = 0, g = 0, b = 0] = rgb.map((c) => {
    const s = c / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
