/** Listening at the broker a house has already. */
import { readFileSync } from 'node:fs';
import type { Probes } from './probes.ts';
import { TOPIC_ROOT, takeMessage } from './topics.ts';

export interface HouseBrokerOptions {
  /** `mqtt://host:1883`, `mqtts://`, `ws://` or `wss://`. */
  readonly url: string;
  readonly user?: string;
  readonly password?: string;
  /** File with the certificate of the authority that signed the broker's, for `mqtts://`. */
  readonly caFile?: string;
}

export interface HouseBroker {
  /** Whether the line is up. */
  readonly connected: () => boolean;
  close(): Promise<void>;
}

/** How often the topics that were given to probes meanwhile are looked up [ms]. */
const TOPICS_MS = 5000;
/** A lost line is tried again after this [ms]. */
const AGAIN_MS = 5000;
/** Messages that wait at most; beyond it the newest wins. */
const MOST_WAITING = 2000;

interface Parts {
  readonly probes: Probes;
  readonly log: (line: string) => void;
}

/** Connects, and goes on trying as long as the server runs. */
export async function joinHouseBroker(
  options: HouseBrokerOptions,
  { probes, log }: Parts,
): Promise<HouseBroker> {
  const { connect } = await import('mqtt');
  const client = connect(options.url, {
    ...(options.user !== undefined && { username: options.user }),
    ...(options.password !== undefined && { password: options.password }),
    ...(options.caFile !== undefined && { ca: readFileSync(options.caFile) }),
    reconnectPeriod: AGAIN_MS,
    connectTimeout: 10_000,
    // We only listen; what a broker kept for us from a day we were not there has no time of its own.
    clean: true,
    resubscribe: false,
  });

  /** Topics listened to, and the probes each speaks for. */
  let topics = new Map<string, string>();
  const subscribed = new Set<string>();
  const readTopics = async () => {
    const all = await probes.all();
    topics = new Map(
      all.flatMap(({ id, item }): [string, string][] =>
        item.topic === undefined ? [] : [[item.topic, id]],
      ),
    );
    for (const topic of [`${TOPIC_ROOT}+`, ...topics.keys()]) {
      if (subscribed.has(topic) || !client.connected) continue;
      subscribed.add(topic);
      const [granted] = await client.subscribeAsync(topic, { qos: 1 });
      if (granted === undefined || granted.qos >= 128) {
        log(`mqtt: ${options.url} does not let us listen to ${topic}`);
      }
    }
    for (const topic of subscribed) {
      if (topic === `${TOPIC_ROOT}+` || topics.has(topic) || !client.connected) continue;
      subscribed.delete(topic);
      await client.unsubscribeAsync(topic);
    }
  };
  const look = () => {
    readTopics().catch((thrown) => tell(thrown instanceof Error ? thrown.message : String(thrown)));
  };
  let told = '';
  const tell = (message: string) => {
    if (message !== told) log(`mqtt: ${options.url}: ${message}`);
    told = message;
  };

  client.on('connect', () => {
    if (told !== '') log(`mqtt: ${options.url}: connected`);
    told = '';
    subscribed.clear();
    look();
  });
  client.on('error', (error) => tell(error.message === '' ? 'no answer' : error.message));
  client.on('close', () => tell(told === '' ? 'the line is down' : told));

  let waiting: { id: string; payload: Buffer }[] = [];
  let working = false;
  const work = async () => {
    working = true;
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const found = await probes.find(next.id);
      if (found !== undefined) await takeMessage(probes, found.item, next.payload);
    }
    working = false;
  };
  client.on('message', (topic, payload, packet) => {
    // A kept message is of nobody knows when: a probe that has been dead for a week.
    if (packet.retain) return;
    const id =
      topics.get(topic) ?? (topic.startsWith(TOPIC_ROOT) ? topic.slice(TOPIC_ROOT.length) : '');
    if (id === '') return;
    if (waiting.length >= MOST_WAITING) waiting = waiting.slice(MOST_WAITING / 2);
    waiting.push({ id, payload });
    if (!working) work().catch((thrown) => tell(String(thrown)));
  });

  const timer = setInterval(look, TOPICS_MS);
  timer.unref();
  return {
    connected: () => client.connected,
    close: async () => {
      clearInterval(timer);
      await client.endAsync(true);
    },
  };
}
