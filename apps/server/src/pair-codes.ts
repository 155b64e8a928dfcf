/** The codes by which devices come in, one for each role. */
import { randomBytes, timingSafeEqual } from 'node:crypto';
import { ROLES, type Role } from '@ladlework/contract';

/** No vowels and nothing that looks like something else: read aloud, typed with wet hands. */
const LETTERS = '23456789bcdfghjkmnpqrtvwxz';
const CODE_LENGTH = 10;

export class PairCodes {
  #codes = newCodes();

  /** As printed and shown. New at each start. */
  of(role: Role): string {
    return this.#codes[role];
  }

  /** The role a typed code stands for; spaces, dashes and capitals do not matter. */
  roleOf(typed: string): Role | undefined {
    const code = typed.toLowerCase().replaceAll(/[\s-]/g, '');
    // All are compared, so that the time taken tells nothing.
    const found = ROLES.filter((role) => same(code, this.#codes[role]));
    return found[0];
  }

  /** Makes new ones; the old are worth nothing from now on. */
  renew(): void {
    this.#codes = newCodes();
  }
}

/** Compares without telling by its time how much was right. */
function same(a: string, b: string): boolean {
  const [x, y] = [Buffer.from(a), Buffer.from(b)];
  return x.length === y.length && timingSafeEqual(x, y);
}

const newCodes = (): Record<Role, string> => ({
  brewer: newCode(),
  helper: newCode(),
  viewer: newCode(),
});

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
