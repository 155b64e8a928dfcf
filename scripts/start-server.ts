import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { announcement, readMqttSettings, startServer } from '@ladlework/server';

const DEFAULT_PORT = 8620;
const DEFAULT_HOST = '127.0.0.1';

const inHouse = (path: string) => fileURLToPath(new URL(`../${path}`, import.meta.url));

/**
 * The server with the built page and, on an empty log, the invented brewery. Ends on SIGINT and
 * SIGTERM when the log is closed.
 *
 * @param settings  LADLEWORK_DATA folder of the log; PORT 0 to 65535, 0 for any free one; HOST
 *   address to listen at; LADLEWORK_MQTT_PORT and the others of docs/probes.md; PAIR=all asks even this machine to be paired
 * @throws {Error} with a sentence for the person who started it
 */
export async function startHouse(settings: Readonly<Record<string, string | undefined>>) {
  const dataFolder = resolve(settings.LADLEWORK_DATA || inHouse('data'));
  const mqtt = readMqttSettings(`${dataFolder}/mqtt.json`, settings);
  if (!mqtt.ok) console.error(mqtt.message);
  const started = await startServer({
    ...(mqtt.ok && { mqtt: mqtt.settings }),
    dbPath: `${dataFolder}/ladlework.sqlite`,
    webRoot: inHouse('apps/web/dist'),
    examplesRoot: inHouse('examples'),
    port: readPort(settings.PORT),
    host: settings.HOST || DEFAULT_HOST,
    pairAll: readPair(settings.PAIR),
  });
  if (!started.ok) throw new Error(adviceFor(started));

  for (const problem of started.problems) console.error(problem);
  for (const line of announcement(started, dataFolder)) console.log(line);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, started.close);
}

function readPort(text: string | undefined): number {
  if (!text) return DEFAULT_PORT;
  if (/^\d{1,5}$/.test(text) && Number(text) <= 65535) return Number(text);
  throw new Error(`PORT is "${text}"; it must be a whole number from 0 to 65535.`);
}

function readPair(text: string | undefined): boolean {
  if (!text || text === 'all') return text === 'all';
  throw new Error(`PAIR is "${text}"; it must be all, or not set.`);
}

function adviceFor({ code, message }: { code: string; message: string }): string {
  return code === 'port-in-use' ? `${message} (PORT=8621 npm start)` : message;
}
