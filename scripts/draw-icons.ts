/** Draws the icons of the installed page from its mark: `npx tsx scripts/draw-icons.ts`. */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { launchBrowser } from '../e2e/browser.ts';

const folder = fileURLToPath(new URL('../apps/web/public/icons/', import.meta.url));

/** The ladle of mark.svg, in a square of 32, on a ground that reaches the edge. */
const mark = (scale: number) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" fill="#15171a"/><g transform="translate(16 16) scale(${scale}) translate(-16 -16)"><path d="M7 4v13.5" fill="none" stroke="#faf8f3" stroke-width="3" stroke-linecap="square"/><path d="M5.5 17h20a10 10 0 0 1-20 0z" fill="#faf8f3"/></g></svg>`;

/** A mask may cut off all but a circle of 80 % of the width (W3C manifest: safe zone). */
const ICONS = [
  { name: 'icon-192', px: 192, scale: 0.9 },
  { name: 'icon-512', px: 512, scale: 0.9 },
  { name: 'maskable-512', px: 512, scale: 0.68 },
  { name: 'touch-180', px: 180, scale: 0.8 },
];

mkdirSync(folder, { recursive: true });
const browser = await launchBrowser();
for (const { name, px, scale } of ICONS) {
  const page = await browser.newPage({ viewport: { width: px, height: px } });
  await page.setContent(`<style>body{margin:0}svg{display:block}</style>${mark(scale)}`);
  await page.screenshot({ path: `${folder}${name}.png` });
  await page.close();
}
await browser.close();
