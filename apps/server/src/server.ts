/** A running server: the log opened, the page read, a socket listening. */
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createServer as createSecureServer, type Server as SecureServer } from 'node:https';
import type { AddressInfo, Server as NetServer } from 'node:net';
import { dirname, join } from 'node:path';
import { getRequestListener } from '@hono/node-server';
import { ROLES, type Role } from '@ladlework/contract';
import { type EventStore, type OpenError, openStore } from '@ladlework/store';
import { createApp } from './app.ts';
import type { Authority, ServerCertificate } from './authority.ts';
import { Devices } from './devices.ts';
import { twoDoors } from './doors.ts';
import { type Entrance, placesOf } from './entrance.ts';
import { readExamples, seedExamples } from './examples.ts';
import { LiveStream } from './live-stream.ts';
import { PageFiles } from './page-files.ts';
import { PairCodes } from './pair-codes.ts';
import { ownNames } from './private-names.ts';
import type { MqttSettings } from './probes/settings.ts';
import { startProbes } from './probes/start.ts';
import { isLoopback } from './request.ts';

export interface ServerOptions {
  /** File of the log; made when missing. */
  readonly dbPath: string;
  /** Folder of the built page. */
  readonly webRoot: string;
  /** 0 takes any free port. */
  readonly port?: number;
  /** Address to listen on; anything but loopback needs devices to be paired. */
  readonly host?: string;
  /**
   * The machine itself must be paired as well, and speaks https: for a machine that others use, or
   * one behind a proxy that makes every request look like its own.
   */
  readonly pairAll?: boolean;
  /** Folder of brew files sown into an empty log. */
  readonly examplesRoot?: string;
  /** How probes speak MQTT; not at all when left out. */
  readonly mqtt?: MqttSettings;
  readonly now?: () => number;
  /** One line for the operator. */
  readonly log?: (line: string) => void;
}

export interface RunningServer {
  readonly ok: true;
  readonly url: string;
  /** To be printed when devices of the network may come. */
  readonly pairing?: PairingPrint;
  /** What the operator should know, a sentence each. */
  readonly problems: readonly string[];
  /** Ends streams, lets running requests finish, closes the log. */
  close(): Promise<void>;
}

/** What the people at the server need to let devices in. */
export interface PairingPrint {
  /** Where a device begins. */
  readonly trustUrl: string;
  /** Addresses of the page, best first; https where there is a certificate. */
  readonly urls: readonly string[];
  /** Of the authority's certificate; undefined where there is none. */
  readonly fingerprint?: string;
  readonly codes: Readonly<Record<Role, string>>;
}

export interface NotStarted {
  readonly ok: false;
  readonly code: OpenError['code'] | 'port-in-use' | 'no-permission' | 'bad-address';
  readonly message: string;
}

/** Requests that have not ended by then are cut off [ms]. */
const GRACE_MS = 3000;

/** How often the certificate is held against the machine's addresses and the calendar [ms]. */
const RENEW_EVERY_MS = 60_000;

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

  const alone = (host === 'localhost' || isLoopback(host)) && options.pairAll !== true;
  const entrance = alone ? undefined : await openEntrance(options, host, now, log, problems);
  const live = new LiveStream(store, await store.last(), log);
  const deps = { store, live, now, log };
  const heard = await startProbes(deps, `${options.dbPath}.probes`, options.mqtt ?? {}, problems);
  const app = createApp({ ...deps, ...heard, version: ownVersion() }, page, entrance);
  const speakers = await openSpeakers(app, entrance, now, log);

  const failed = await listen(speakers.listener, port, host);
  if (failed !== undefined) {
    await heard.close();
    live.close();
    speakers.close();
    await store.close();
    return failed;
  }
  const address = speakers.listener.address() as AddressInfo;
  if (entrance !== undefined) entrance.port = address.port;
  return {
    ok: true,
    url: entrance === undefined ? urlOf(address) : placesOf(entrance).plain[0],
    problems,
    ...(entrance && { pairing: printOf(entrance) }),
    close: async () => {
      live.close();
      speakers.close();
      await stop(speakers.listener, speakers.servers);
      entrance?.devices.close();
      await heard.close();
      await store.close();
    },
  };
}

async function openEntrance(
  options: ServerOptions,
  host: string,
  now: () => number,
  log: (line: string) => void,
  problems: string[],
): Promise<Entrance> {
  const devices = new Devices(`${options.dbPath}.devices`, now, log);
  if (devices.problem !== undefined) problems.push(devices.problem);
  // Loaded where it is needed only: a server for its own computer starts without it.
  const { openAuthority } = await import('./authority.ts');
  const opened = await openAuthority(join(dirname(options.dbPath), 'authority'), now());
  if (!opened.ok) problems.push(`${opened.message} Until then there is plain http only.`);
  return {
    devices,
    codes: new PairCodes(),
    authority: opened.ok ? opened.authority : undefined,
    pairAll: options.pairAll ?? false,
    port: 0,
    onlyAt: host === '0.0.0.0' || host === '::' ? undefined : host,
  };
}

interface Speakers {
  /** What listens; with an authority it hands each line to one of the servers. */
  readonly listener: NetServer;
  readonly servers: readonly (Server | SecureServer)[];
  close(): void;
}

async function openSpeakers(
  app: ReturnType<typeof createApp>,
  entrance: Entrance | undefined,
  now: () => number,
  log: (line: string) => void,
): Promise<Speakers> {
  const answer = getRequestListener(app.fetch, { overrideGlobalObjects: false });
  const plain = patient(createServer(answer));
  const { authority } = entrance ?? {};
  if (authority === undefined) return { listener: plain, servers: [plain], close: () => undefined };
  const certificate = await authority.serverCertificate(ownNames(), now());
  const secure = patient(createSecureServer(tlsOf(certificate), answer));
  // A device that does not trust us yet breaks off; that is told on its own screen.
  secure.on('tlsClientError', () => undefined);
  const renewing = setInterval(() => {
    renew(secure, authority, now).catch((thrown) => log(`certificate: ${String(thrown)}`));
  }, RENEW_EVERY_MS);
  renewing.unref();
  return {
    listener: twoDoors(plain, secure),
    servers: [plain, secure],
    close: () => clearInterval(renewing),
  };
}

/** A client that dribbles its headers holds no socket for long. */
function patient<S extends Server | SecureServer>(server: S): S {
  server.headersTimeout = 10_000;
  server.requestTimeout = 30_000;
  return server;
}

const tlsOf = ({ key, chain }: ServerCertificate) => ({
  key,
  cert: chain,
  minVersion: 'TLSv1.2' as const,
});

/** Addresses of a machine change under a running server: a router that restarts, a cable. */
async function renew(secure: SecureServer, authority: Authority, now: () => number): Promise<void> {
  secure.setSecureContext(tlsOf(await authority.serverCertificate(ownNames(), now())));
}

function printOf(entrance: Entrance): PairingPrint {
  const { plain, secure } = placesOf(entrance);
  const codes = Object.fromEntries(ROLES.map((role) => [role, entrance.codes.of(role)]));
  return {
    trustUrl: `${plain[0]}/trust`,
    urls: secure.length > 0 ? secure : plain,
    ...(entrance.authority && { fingerprint: entrance.authority.fingerprint }),
    codes: codes as Record<Role, string>,
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

function listen(server: NetServer, port: number, host: string): Promise<NotStarted | undefined> {
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

function stop(listener: NetServer, servers: Speakers['servers']): Promise<void> {
  return new Promise((resolve) => {
    const each = (run: (server: Server | SecureServer) => void) => servers.forEach(run);
    const cut = setTimeout(() => each((server) => server.closeAllConnections()), GRACE_MS);
    // A line that served a live stream falls idle a moment after its stream was ended.
    const sweep = setInterval(() => each((server) => server.closeIdleConnections()), 20);
    listener.close(() => {
      clearTimeout(cut);
      clearInterval(sweep);
      resolve();
    });
    each((server) => server.closeIdleConnections());
  });
}

function urlOf({ address, port }: AddressInfo): string {
  return `http://${address.includes(':') ? `[${address}]` : address}:${port}`;
}

function ownVersion(): string {
  const own: unknown = JSON.parse(
    readFileSync(new URL('../package.json', import.meta.url), 'utf8'),
  );
  return typeof own === 'object' && own !== null && 'version' in own ? String(own.version) : '';
}
