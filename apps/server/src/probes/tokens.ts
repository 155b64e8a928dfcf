/**
 * What a probe proves itself with. A token follows from the house's secret, the probe's id and the
 * count of its tokens: none is kept, none is in the log, and a new count makes the old one worthless.
 */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import type { Probe } from '@ladlework/log';
import { keepFile } from '../keep-file.ts';

const SECRET_BYTES = 32;
/** No vowels, nothing that looks like something else: 26 letters, as in the pairing code. */
const LETTERS = '23456789bcdfghjkmnpqrtvwxz';
/** 26^24 is 2^112: beyond guessing, and short enough for a device's settings page. */
const LENGTH = 24;

export class ProbeTokens {
  readonly #secret: Buffer;

  /** @param path file of the secret; made when missing */
  constructor(path: string) {
    this.#secret = secretAt(path);
  }

  /** The token of a probe; also its MQTT password. */
  of(probe: Pick<Probe, 'id' | 'token'>): string {
    const sum = createHmac('sha512', this.#secret)
      .update(`probe ${probe.id} ${probe.token}`)
      .digest();
    let token = '';
    // Two bytes a letter: the remainder of 65536 by 26 favours no letter by more than 1 in 2500.
    for (let i = 0; i < LENGTH; i += 1) token += LETTERS[sum.readUInt16BE(2 * i) % LETTERS.length];
    return token;
  }

  /** Whether what was sent is the probe's token; takes as long for a wrong one. */
  fits(probe: Pick<Probe, 'id' | 'token'>, sent: string): boolean {
    const [a, b] = [Buffer.from(this.of(probe)), Buffer.from(sent)];
    return a.length === b.length && timingSafeEqual(a, b);
  }
}

function secretAt(path: string): Buffer {
  if (existsSync(path)) {
    const kept = Buffer.from(readFileSync(path, 'utf8').trim(), 'base64url');
    if (kept.length === SECRET_BYTES) return kept;
  }
  const secret = randomBytes(SECRET_BYTES);
  keepFile(path, `${secret.toString('base64url')}\n`);
  return secret;
}
