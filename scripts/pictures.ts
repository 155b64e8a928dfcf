/**
 * Takes the pictures of the documents from the real page: the example brewery's two-pull beer,
 * planned, and its day in the middle of the first return. `npx tsx scripts/pictures.ts`
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { brewer } from '../e2e/brew-day.ts';
import { launchBrowser } from '../e2e/browser.ts';
import { brewhouseClock, nextMorningMs } from '../e2e/clock.ts';
import { openDevice } from '../e2e/page.ts';
import { startTestServer } from '../e2e/server.ts';
import { ensurePage } from './page.mjs';

const folder = fileURLToPath(new URL('../docs/pictures/', import.meta.url));

await ensurePage(console.log);
const browser = await launchBrowser();
const server = await startTestServer();
try {
  const { page } = await openDevice(browser, 'tablet-wide', { colorScheme: 'light' });
  const picture = (name: string) => page.screenshot({ path: `${folder}${name}.png` });
  mkdirSync(folder, { recursive: true });
  const clock = brewhouseClock(nextMorningMs());
  await clock.join(page);
  await page.goto(server.url);
  await page.getByRole('button', { name: 'Plan Millrace Lager' }).click();
  await page.getByRole('button', { name: 'Plan it' }).click();
  await page.getByText('This kit can do it.').waitFor();
  await picture('plan');

  await page.getByRole('button', { name: 'Start the day' }).click();
  const maren = await brewer(page, clock);
  await maren.playUntil((card) => card.what.startsWith('Return'));
  await maren.next();
  await maren.portions(3);
  await clock.pass(3);
  await page.getByRole('img', { name: 'The day as a score, now 08:' }).waitFor();
  await page
    .getByText(/3 .*keep .* back/)
    .first()
    .waitFor();
  await picture('day');
} finally {
  await browser.close();
  await server.stop();
}
