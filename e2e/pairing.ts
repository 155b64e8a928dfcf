import type { Page } from 'playwright-core';
import type { TestServer } from './server.ts';

export type PairedRole = 'brewer' | 'helper' | 'viewer';

/** A code as it was printed where the server was started. */
function printedCode(server: TestServer, role: PairedRole): string {
  const code = new RegExp(`${role} (\\w{5} \\w{5})`).exec(
    server.output().split('Codes').at(-1) ?? '',
  );
  if (code?.[1] === undefined) throw new Error(`no code for a ${role} was printed`);
  return code[1];
}

/**
 * Pairs a device by hand, as somebody does who reads the code off the brewer's screen.
 *
 * @param at  address it comes by
 * @param name  what it is called on the list of devices
 */
export async function pairBy(
  page: Page,
  server: TestServer,
  at: string,
  role: PairedRole,
  name: string,
): Promise<void> {
  await page.goto(`${at}/pair`);
  await page.getByRole('textbox', { name: 'Code' }).fill(printedCode(server, role));
  await page.getByRole('textbox', { name: 'called' }).fill(name);
  await page.getByRole('button', { name: 'Pair' }).click();
  await page.getByRole('navigation', { name: 'Headings' }).waitFor();
}
