import { ensurePage } from '../scripts/page.mjs';

/** The journeys are made on the page as it is now, not on one built last week. */
export default async function setup(): Promise<void> {
  await ensurePage(console.log);
}
