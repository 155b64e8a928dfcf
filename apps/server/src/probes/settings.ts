/** How the house's probes speak MQTT: a file beside the log, and what the environment says instead. */
import { existsSync, readFileSync } from 'node:fs';
import * as v from 'valibot';
import type { BrokerOptions } from './broker.ts';
import type { HouseBrokerOptions } from './house-broker.ts';

/** Both are off when they are not named. */
export interface MqttSettings {
  /** Our own broker. */
  readonly own?: BrokerOptions;
  /** The house's. */
  readonly house?: HouseBrokerOptions;
}

const text = (most: number) => v.pipe(v.string(), v.minLength(1), v.maxLength(most));
const Own = v.strictObject({
  port: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(65_535)),
  host: v.optional(text(200), '127.0.0.1'),
});
const House = v.strictObject({
  url: v.pipe(
    text(500),
    v.regex(/^(mqtts?|wss?):\/\/[^\s@]+$/, 'must be mqtt://, mqtts://, ws:// or wss:// and a host'),
  ),
  user: v.exactOptional(text(200)),
  password: v.exactOptional(text(500)),
  caFile: v.exactOptional(text(1000)),
});
const File = v.strictObject({ own: v.exactOptional(Own), house: v.exactOptional(House) });

const KNOWN = 'Known: own {port, host}, house {url, user, password, caFile}. MQTT is off.';

export type ReadSettings =
  | { readonly ok: true; readonly settings: MqttSettings }
  | { readonly ok: false; readonly message: string };

/**
 * Reads `mqtt.json`, and over it LADLEWORK_MQTT_PORT and LADLEWORK_MQTT_HOST for our own broker,
 * LADLEWORK_BROKER_URL, LADLEWORK_BROKER_USER and LADLEWORK_BROKER_PASSWORD for the house's.
 *
 * @param path of the file; it need not be there
 * @param environment of the process
 */
export function readMqttSettings(
  path: string,
  environment: Readonly<Record<string, string | undefined>>,
): ReadSettings {
  let file: unknown = {};
  if (existsSync(path)) {
    try {
      file = JSON.parse(readFileSync(path, 'utf8'));
    } catch (thrown) {
      const why = thrown instanceof Error ? thrown.message : String(thrown);
      return { ok: false, message: `${path} cannot be read: ${why}. MQTT is off.` };
    }
  }
  // The schema library takes a list for an object.
  if (Array.isArray(file)) return { ok: false, message: `${path}: file: is a list. ${KNOWN}` };
  const parsed = v.safeParse(File, overlaid(file, environment));
  if (parsed.success) return { ok: true, settings: parsed.output };
  const [issue] = parsed.issues;
  const field = issue.path?.map((p) => String(p.key)).join('.') ?? 'file';
  return {
    ok: false,
    message: `${path}: ${field}: ${issue.message}. ${KNOWN}`,
  };
}

function overlaid(
  file: unknown,
  environment: Readonly<Record<string, string | undefined>>,
): unknown {
  if (typeof file !== 'object' || file === null) return file;
  const { own, house } = file as { own?: object; house?: object };
  const set = (name: string, value: string | undefined) =>
    value === undefined || value === '' ? {} : { [name]: value };
  const port = environment.LADLEWORK_MQTT_PORT;
  const ownSet = {
    ...own,
    ...(port === undefined || port === '' ? {} : { port: Number(port) }),
    ...set('host', environment.LADLEWORK_MQTT_HOST),
  };
  const houseSet = {
    ...house,
    ...set('url', environment.LADLEWORK_BROKER_URL),
    ...set('user', environment.LADLEWORK_BROKER_USER),
    ...set('password', environment.LADLEWORK_BROKER_PASSWORD),
  };
  return {
    ...file,
    ...(Object.keys(ownSet).length > 0 && { own: ownSet }),
    ...(Object.keys(houseSet).length > 0 && { house: houseSet }),
  };
}
