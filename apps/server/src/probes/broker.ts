/**
 * A broker of our own, for houses without one. It takes what its probes publish and hands nothing
 * on: nobody can listen here, and a probe can speak for itself only.
 */
import { createServer, type Server, type Socket } from 'node:net';
import { Duplex } from 'node:stream';
import { RateLimit } from '../rate-limit.ts';
import { PacketGuard } from './packet-guard.ts';
import type { Probes } from './probes.ts';
import type { ProbeTokens } from './tokens.ts';
import { TOPIC_ROOT, takeMessage } from './topics.ts';

export interface BrokerOptions {
  readonly port: number;
  readonly host: string;
}

export interface Broker {
  readonly port: number;
  close(): Promise<void>;
}

const MOST_CLIENTS = 500;
/** Different complaints told; the same one is told once. */
const MOST_TOLD = 1000;
/** A socket that has not said who it is by then is cut off [ms]. */
const CONNECT_MS = 10_000;
/** Wrong passwords from one address. */
const WRONG = { perSecond: 0.2, burst: 10 };
/** MQTT 3.1.1 section 3.2.2.3: bad user name or password. */
const BAD_PASSWORD = 4;

interface Parts {
  readonly probes: Probes;
  readonly tokens: ProbeTokens;
  readonly now: () => number;
  readonly log: (line: string) => void;
}

/** @throws NodeJS.ErrnoException when the port cannot be had */
export async function openBroker(options: BrokerOptions, parts: Parts): Promise<Broker> {
  const { probes, tokens, now, log } = parts;
  // Loaded where it is switched on only.
  const { Aedes } = await import('aedes');
  const wrong = new RateLimit(WRONG.perSecond, WRONG.burst, now);
  const addresses = new WeakMap<object, string>();
  /** Probe each line speaks for. By the line: a name of its own choosing can be taken over. */
  const users = new WeakMap<object, string>();

  const aedes = await Aedes.createBroker({
    concurrency: 100,
    queueLimit: 42,
    connectTimeout: CONNECT_MS,
    maxInflightInbound: 20,
    maxTopicLevels: 8,
    authenticate: (client, user, password, done) => {
      const address = addresses.get(client.conn) ?? '';
      const refuse = () => {
        const error = Object.assign(new Error('not this probe'), { returnCode: BAD_PASSWORD });
        done(error, false);
      };
      const check = async () => {
        const found = await probes.find(user ?? '');
        if (found === undefined || !tokens.fits(found.item, password?.toString() ?? '')) {
          if (wrong.take(address)) log(`mqtt: ${address} gave no probe’s name and password`);
          refuse();
          return;
        }
        users.set(client, found.id);
        done(null, true);
      };
      check().catch((thrown) => {
        log(`mqtt: ${String(thrown)}`);
        refuse();
      });
    },
    authorizePublish: (client, packet, done) => {
      const user = client === null ? undefined : users.get(client);
      if (user !== undefined && packet.topic === `${TOPIC_ROOT}${user}`) {
        // Nobody listens here, so nothing is kept for anybody.
        packet.retain = false;
        done(null);
        return;
      }
      done(new Error(`a probe publishes to ${TOPIC_ROOT} and its own id only`));
    },
    // An error here would cut the line; undefined refuses the subscription and keeps it.
    authorizeSubscribe: (_client, _subscription, done) => done(null, null),
    published: (packet, client, done) => {
      const user = client == null ? undefined : users.get(client);
      if (user === undefined) {
        done();
        return;
      }
      const take = async () => {
        const found = await probes.find(user);
        if (found !== undefined) await takeMessage(probes, found.item, packet.payload);
      };
      // The next message of this line is read when this one is taken.
      take().then(
        () => done(),
        (thrown) => done(thrown instanceof Error ? thrown : new Error(String(thrown))),
      );
    },
  });
  const told = new Set<string>();
  const tell = (client: object | null, error: Error) => {
    const line = `mqtt: ${(client && users.get(client)) ?? 'a stranger'}: ${error.message}`;
    if (told.has(line) || told.size >= MOST_TOLD) return;
    told.add(line);
    log(line);
  };
  aedes.on('clientError', tell);
  aedes.on('connectionError', tell);

  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    socket.on('error', () => socket.destroy());
    const readable = socket.pipe(new PacketGuard());
    readable.on('error', (error) => {
      tell(null, error);
      socket.destroy();
    });
    const line = Duplex.from({ readable, writable: socket });
    line.on('error', () => socket.destroy());
    addresses.set(line, socket.remoteAddress ?? '');
    aedes.handle(line);
  });
  server.maxConnections = MOST_CLIENTS;
  await listening(server, options);
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : options.port,
    close: async () => {
      await new Promise<void>((resolve) => aedes.close(() => resolve()));
      for (const socket of sockets) socket.destroy();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}

function listening(server: Server, { port, host }: BrokerOptions): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
}
