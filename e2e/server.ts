import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const START_WITHIN_MS = 60_000;

/** The real server in a process of its own, on a data folder of its own, always at one address. */
export interface TestServer {
  readonly url: string;
  readonly dataFolder: string;
  /** Everything it has printed, over all its lives. */
  readonly output: () => string;
  /** As a pulled plug: no chance to tidy up. */
  readonly kill: () => Promise<void>;
  /** Starts it again on the same data and address after `kill`. */
  readonly restart: () => Promise<void>;
  /** Ends it and removes its data. */
  readonly stop: () => Promise<void>;
}

/**
 * Starts the server the way `npm start` does, and waits until it says where it is.
 *
 * @param settings  environment beside the data folder and the port
 * @throws {Error} with what it printed when it ends or stays silent instead
 */
export async function startTestServer(
  settings: Readonly<Record<string, string>> = {},
): Promise<TestServer> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'ladlework-'));
  const port = await freePort();
  const url = `http://127.0.0.1:${port}`;
  let printed = '';
  let child: ChildProcess | undefined;

  const start = async () => {
    const started = spawn(process.execPath, ['scripts/start.mjs'], {
      cwd: root,
      env: { ...process.env, ...settings, LADLEWORK_DATA: dataFolder, PORT: String(port) },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child = started;
    const life = { printed: '' };
    for (const stream of [started.stdout, started.stderr]) {
      stream.on('data', (data: Buffer) => {
        printed += data;
        life.printed += data;
      });
    }
    await waitUntil(
      () => {
        if (started.exitCode !== null || started.signalCode !== null) {
          throw new Error(`the server ended at its start:\n${life.printed}`);
        }
        return life.printed.includes(url);
      },
      () => `the server did not say ${url} within ${START_WITHIN_MS} ms:\n${life.printed}`,
    );
  };

  const end = async (signal: NodeJS.Signals) => {
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  };

  await start();
  return {
    url,
    dataFolder,
    output: () => printed,
    kill: () => end('SIGKILL'),
    restart: start,
    stop: async () => {
      await end('SIGTERM');
      rmSync(dataFolder, { recursive: true, force: true });
    },
  };
}

async function freePort(): Promise<number> {
  const probe = createServer().listen(0, '127.0.0.1');
  await once(probe, 'listening');
  const address = probe.address();
  probe.close();
  await once(probe, 'close');
  if (address === null || typeof address === 'string') throw new Error('no free port was found');
  return address.port;
}

async function waitUntil(done: () => boolean, complaint: () => string): Promise<void> {
  const deadline = performance.now() + START_WITHIN_MS;
  while (!done()) {
    if (performance.now() > deadline) throw new Error(complaint());
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
