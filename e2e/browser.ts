import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import { type InstalledBrowser, npmBrowser } from './npm-browser.ts';

const DEBIAN_CHROMIUM = '/usr/bin/chromium';
/** Value of BROWSER_PATH that passes over Debian's browser for the one from npm. */
const FROM_NPM = 'npm';

/** Keeps the browser from calling its maker; playwright's own flags do the rest. */
const ARGUMENTS = [
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-domain-reliability',
  '--disable-quic',
  '--no-first-run',
  '--no-pings',
  '--disable-gpu',
  // The shared memory of a small container is too small for a page with a worker.
  '--disable-dev-shm-usage',
];

interface Candidate {
  readonly name: string;
  readonly find: () => InstalledBrowser;
}

/**
 * Starts the test browser: the one BROWSER_PATH names, else Debian's chromium, else the one from
 * npm. A browser named by BROWSER_PATH is the only one tried. `BROWSER_PATH=npm` names the last.
 *
 * @param more  arguments of this browser alone
 * @throws {Error} when none starts, with what was tried and what to install
 */
export async function launchBrowser(more: readonly string[] = []): Promise<Browser> {
  const tried: string[] = [];
  for (const { name, find } of candidates()) {
    try {
      const { executablePath, env } = find();
      return await chromium.launch({
        executablePath,
        args: [...ARGUMENTS, ...more],
        // As root, and in most containers, chromium refuses to run with a sandbox; the journeys
        // open nothing but our own page.
        chromiumSandbox: false,
        env: { ...process.env, ...env },
      });
    } catch (error) {
      tried.push(`- ${name}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  throw new Error(
    `No test browser works here, so the browser journeys cannot run.\n${tried.join('\n')}\n` +
      "Install Debian's chromium (apt-get install chromium), or set BROWSER_PATH to a Chromium or Chrome.",
  );
}

function candidates(): Candidate[] {
  const fromNpm = { name: '@sparticuz/chromium from npm', find: npmBrowser };
  const named = process.env.BROWSER_PATH;
  if (named === FROM_NPM) return [fromNpm];
  if (named) return [{ name: `BROWSER_PATH=${named}`, find: () => installedAt(named) }];
  return [
    { name: `Debian's ${DEBIAN_CHROMIUM}`, find: () => installedAt(DEBIAN_CHROMIUM) },
    fromNpm,
  ];
}

function installedAt(path: string): InstalledBrowser {
  if (!existsSync(path)) throw new Error('it is not installed');
  return { executablePath: path, env: {} };
}
