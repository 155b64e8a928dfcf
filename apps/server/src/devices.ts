/** Devices that were let in: kept in a file beside the log, without anything that lets one in. */
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, readFileSync, renameSync } from 'node:fs';
import { ROLES, type Role } from '@ladlework/contract';
import * as v from 'valibot';
import { keepFile } from './keep-file.ts';

/** Longest name of a device [characters]. */
export const LONGEST_NAME = 40;
/** A brewery has a dozen; more is somebody filling the file. */
const MOST_DEVICES = 200;
/** When a device was last here is not worth a write to disk each second [ms]. */
const SEEN_SAVED_EVERY_MS = 300_000;

const DeviceSchema = v.object({
  id: v.string(),
  name: v.string(),
  role: v.picklist(ROLES),
  /** SHA-256 of its token, hex: the file lets nobody in. */
  token: v.string(),
  pairedAtMs: v.number(),
  lastSeenMs: v.number(),
  /** Whether it was last here by https. */
  secure: v.boolean(),
});

export type Device = v.InferOutput<typeof DeviceSchema>;

export class Devices {
  /** Told when the file could not be read. */
  readonly problem: string | undefined;
  readonly #path: string;
  readonly #now: () => number;
  readonly #log: (line: string) => void;
  readonly #byToken = new Map<string, Device>();
  #savedAtMs = 0;
  #unsaved = false;

  /**
   * @param path file of the devices; made when the first is let in
   * @param now clock [ms]
   * @param log one line for the operator
   */
  constructor(path: string, now: () => number, log: (line: string) => void) {
    this.#path = path;
    this.#now = now;
    this.#log = log;
    const read = readDevices(path);
    this.problem = read.problem;
    for (const device of read.devices) this.#byToken.set(device.token, device);
  }

  /** In the order they were let in. */
  list(): Device[] {
    return [...this.#byToken.values()].sort((a, b) => a.pairedAtMs - b.pairedAtMs);
  }

  /** The device a token was given to. */
  byToken(token: string): Device | undefined {
    return token === '' || token.length > 200 ? undefined : this.#byToken.get(hashOf(token));
  }

  /**
   * Lets a device in. Throws when that cannot be kept.
   *
   * @param name what people call it; cut to its longest
   * @returns the token it shows from now on, or undefined when there are too many devices
   */
  add(role: Role, name: string, secure: boolean): string | undefined {
    if (this.#byToken.size >= MOST_DEVICES) return undefined;
    const now = this.#now();
    const token = newToken();
    const device: Device = {
      id: randomBytes(8).toString('hex'),
      name: name.trim().slice(0, LONGEST_NAME) || `${role}’s device`,
      role,
      token: hashOf(token),
      pairedAtMs: now,
      lastSeenMs: now,
      secure,
    };
    this.#byToken.set(device.token, device);
    try {
      this.#save();
    } catch (thrown) {
      this.#byToken.delete(device.token);
      throw thrown;
    }
    return token;
  }

  /**
   * A new token for a device whose old one may have been overheard; the old one ends.
   *
   * @returns undefined when it cannot be kept: then the old one goes on
   */
  exchange(device: Device): string | undefined {
    const token = newToken();
    const before = device.token;
    this.#become(device, hashOf(token));
    if (this.#saved()) return token;
    this.#become(device, before);
    return undefined;
  }

  #become(device: Device, hash: string): void {
    this.#byToken.delete(device.token);
    device.token = hash;
    this.#byToken.set(hash, device);
  }

  /** Notes that a device was here. */
  seen(device: Device, secure: boolean): void {
    device.lastSeenMs = this.#now();
    device.secure = secure;
    this.#unsaved = true;
    if (device.lastSeenMs - this.#savedAtMs > SEEN_SAVED_EVERY_MS) this.#saved();
  }

  /** Shuts a device out; false when there is none of that id. */
  revoke(id: string): boolean {
    const device = this.list().find((d) => d.id === id);
    if (device === undefined) return false;
    this.#byToken.delete(device.token);
    this.#save();
    return true;
  }

  /** Saves where nothing hangs on it: a full disk must not keep paired devices from reading. */
  #saved(): boolean {
    try {
      this.#save();
      return true;
    } catch (thrown) {
      this.#unsaved = true;
      this.#log(`the list of devices was not saved: ${String(thrown)}`);
      return false;
    }
  }

  #save(): void {
    this.#savedAtMs = this.#now();
    this.#unsaved = false;
    keepFile(this.#path, `${JSON.stringify({ devices: this.list() }, null, 1)}\n`);
  }

  /** Writes when each device was last here, if that is not on disk yet. */
  close(): void {
    if (this.#unsaved) this.#saved();
  }
}

const newToken = () => randomBytes(32).toString('base64url');

const hashOf = (token: string) => createHash('sha256').update(token).digest('hex');

/** A file that cannot be read lets nobody in; it is put aside, not overwritten. */
function readDevices(path: string): { devices: Device[]; problem?: string } {
  if (!existsSync(path)) return { devices: [] };
  try {
    const json: unknown = JSON.parse(readFileSync(path, 'utf8'));
    return { devices: v.parse(v.object({ devices: v.array(DeviceSchema) }), json).devices };
  } catch (thrown) {
    const aside = `${path}.damaged`;
    renameSync(path, aside);
    const detail = thrown instanceof Error ? thrown.message : String(thrown);
    return {
      devices: [],
      problem: `The list of paired devices was damaged (${detail}) and is now ${aside}. Pair each device again.`,
    };
  }
}
