/** Who may come in from the network: devices that once gave the code printed at the start. */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { chmodSync, existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';

/** No vowels and nothing that looks like something else: read aloud, typed with wet hands. */
const LETTERS = '23456789bcdfghjkmnpqrtvwxz';
const CODE_LENGTH = 10;
const SECRET_BYTES = 32;

export class Pairing {
  /** To be printed where the server was started. New at each start. */
  readonly code: string;
  readonly #secret: Buffer;

  /** @param secretPath file that keeps devices paired over restarts; made when missing */
  constructor(secretPath: string) {
    this.#secret = secretAt(secretPath);
    this.code = newCode();
  }

  /** A token for a device that gave the right code; undefined for a wrong one. */
  pair(code: string): string | undefined {
    const typed = code.toLowerCase().replaceAll(/[\s-]/g, '');
    if (!same(typed, this.code)) return undefined;
    const name = randomBytes(16).toString('base64url');
    return `${name}.${this.#sign(name)}`;
  }

  /** Whether a token was given out by this brewery's server. */
  knows(token: string): boolean {
    const dot = token.indexOf('.');
    if (dot < 1 || token.length > 200) return false;
    return same(token.slice(dot + 1), this.#sign(token.slice(0, dot)));
  }

  #sign(name: string): string {
    return createHmac('sha256', this.#secret).update(name).digest('base64url');
  }
}

/** Compares without telling by its time how much was right. */
function same(a: string, b: string): boolean {
  const [x, y] = [Buffer.from(a), Buffer.from(b)];
  return x.length === y.length && timingSafeEqual(x, y);
}

function newCode(): string {
  let code = '';
  while (code.length < CODE_LENGTH) {
    for (const byte of randomBytes(CODE_LENGTH)) {
      // Bytes beyond the last whole round would favour the first letters.
      const fair = byte < Math.floor(256 / LETTERS.length) * LETTERS.length;
      if (fair && code.length < CODE_LENGTH) code += LETTERS[byte % LETTERS.length];
    }
  }
  return code;
}

function secretAt(path: string): Buffer {
  if (existsSync(path)) {
    const kept = Buffer.from(readFileSync(path, 'utf8').trim(), 'base64url');
    if (kept.length === SECRET_BYTES) return kept;
  }
  const secret = randomBytes(SECRET_BYTES);
  const half = `${path}.part`;
  writeFileSync(half, `${secret.toString('base64url')}\n`, { mode: 0o600 });
  chmodSync(half, 0o600);
  renameSync(half, path);
  return secret;
}
