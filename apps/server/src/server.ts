/** A running server: the log opened, the page read, a socket listening. */
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { networkInterfaces } from 'node:os';
import { getRequestListener } from '@hono/node-server';
import { type EventStore, type OpenError, openStore } from '@ladlework/store';
import { createApp } from './app.ts';
import { readExamples, seedExamples } from './examples.ts';
import { isLoopback } from './guard.ts';
import { LiveStream } from './live-stream.ts';
import { PageFiles } from './page-files.ts';
import { Pairing } from './pairing.ts';

export interface ServerOptions {
  /** File of the log; made when missing. */
  readonly dbPath: string;
  /** Folder of the built page. */
  readonly webRoot: string;
  /** 0 takes any free port. */
  readonly port?: number;
  /** Address to listen on; anything but loopback needs devices to be paired. */
  readonly host?: string;
  /** Folder of brew files sown into an empty log. */
  readonly examplesRoot?: string;
  readonly now?: () => number;
  /** One line for the operator. */
  readonly log?: (line: string) => void;
}

export interface RunningServer {
  readonly ok: true;
  readonly url: string;
  /** To be printed when devices of the network may come. */
  readonly pairing?: { readonly code: string; readonly url: string };
  /** What the operator should know, a sentence each. */
  readonly problems: readonly string[];
  /** Ends streams, lets running requests finish, closes the log. */
  close(): Promise<void>;
}

export interface NotStarted {
  readonly ok: false;
  readonly code: OpenError['code'] | 'port-in-use' | 'no-permission' | 'bad-address';
  readonly message: string;
}

/** Requests that have not ended by then are cut off [ms]. */
const GRACE_MS = 3000;

/**
 * Starts the server.
 *
 * @returns the running server once it listens, or why it does not
 */
export async function startServer(options: ServerOptions): Promise<RunningServer | NotStarted> {
  const { port = 0, host = '127.0.0.1', now = Date.now } = options;
  const log = options.log ?? ((line: string) => process.stderr.write(`${line}\n`));
  const opened = openStore(options.dbPath);
  if (!opened.ok) return { ok: false, ...opened.error };
  const { store } = opened;
  const problems = await sow(store, options.examplesRoot, now());
  const page = new PageFiles(options.webRoot);
  if (!page.built) problems.push(`There is no built page in ${page.root}. Only the API answers.`);

  const open = host === 'localhost' || isLoopback(host);
  const pairing = open ? undefined : new Pairing(`${options.dbPath}.pairing`);
  const live = new LiveStream(store, await store.last(), log);
  const app = createApp({ store, live, version: ownVersion(), now, log }, page, pairing);
  const server = createServer(getRequestListener(app.fetch, { overrideGlobalObjects: false }));
  // A client that dribbles its headers holds no socket for long.
  server.headersTimeout = 10_000;
  server.requestTimeout = 30_000;

  const failed = await listen(server, port, host);
  if (failed !== undefined) {
    live.close();
    await store.close();
    return failed;
  }
  const url = urlOf(server.address() as AddressInfo, host);
  return {
    ok: true,
    url,
    problems,
    ...(pairing && { pairing: { code: pairing.code, url: `${url}/pair?code=${pairing.code}` } }),
    close: async () => {
      live.close();
      await stop(server);
      await store.close();
    },
  };
}

async function sow(
  store: EventStore,
  folder: string | undefined,
  nowMs: number,
): Promise<string[]> {
  if (folder === undefined || (await store.last()) > 0) return [];
  const { examples, problems } = readExamples(folder);
  return [...problems, ...(await seedExamples(store, examples, nowMs))];
}

function listen(server: Server, port: number, host: string): Promise<NotStarted | undefined> {
  return new Promise((resolve) => {
    const failed = (thrown: NodeJS.ErrnoException) => resolve(notStarted(thrown, port, host));
    server.once('error', failed);
    server.listen(port, host, () => {
      server.off('error', failed);
      resolve(undefined);
    });
  });
}

function notStarted(thrown: NodeJS.ErrnoException, port: number, host: string): NotStarted {
  switch (thrown.code) {
    case 'EADDRINUSE':
      return {
        ok: false,
        code: 'port-in-use',
        message: `Port ${port} on ${host} is in use. Is Ladlework running already? Else name another port.`,
      };
    case 'EACCES':
      return {
        ok: false,
        code: 'no-permission',
        message: `Port ${port} on ${host} may not be used by this account. Name a port above 1023.`,
      };
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return {
        ok: false,
        code: 'bad-address',
        message: `${host} is no address of this machine. Use 127.0.0.1, or 0.0.0.0 for all of them.`,
      };
    default:
      throw thrown;
  }
}

function stop(server: Server): Promise<void> {
  return new Promise((resolve) => {
    const cut = setTimeout(() => server.closeAllConnections(), GRACE_MS);
    // A line that served a live stream falls idle a moment after its stream was ended.
    const sweep = setInterval(() => server.closeIdleConnections(), 20);
    server.close(() => {
      clearTimeout(cut);
      clearInterval(sweep);
      resolve();
    });
    server.closeIdleConnections();
  });
}

function urlOf(address: AddressInfo, host: string): string {
  const name = host === '0.0.0.0' || host === '::' ? firstOwnAddress() : address.address;
  return `http://${name.includes(':') ? `[${name}]` : name}:${address.port}`;
}

/** An address by which others reach this machine, for the printed line. */
function firstOwnAddress(): string {
  const all = Object.values(networkInterfaces()).flatMap((list) => list ?? []);
  return all.find((a) => a.family === 'IPv4' && !a.internal)?.address ?? '127.0.0.1';
}

function ownVersion(): string {
  const own: unknown = JSON.parse(
    readFileSync(new URL('../package.json', import.meta.url), 'utf8'),
  );
  return typeof own === 'object' && own !== null && 'version' in own ? String(own.version) : '';
}
