/** What goes wrong with a simulated probe, and what it then shows. */
import { createHash } from 'node:crypto';
import { fail, ok, type Result } from '@ladlework/quantity';

/** All left out: a probe that is right. */
export interface Faults {
  /** Sends nothing from this minute of the day on. */
  readonly dies?: number;
  /** Shows the same number from this minute on. */
  readonly sticks?: number;
  /** Pulled out of the mash at this minute for five, it shows the air. */
  readonly jumps?: number;
  /** Shows so much too high all day [K]. */
  readonly offset?: number;
  /** Wanders by up to so much either way from one reading to the next [K]. */
  readonly jitter?: number;
  /** Loses this share of its messages. */
  readonly loses?: number;
}

const KNOWN: Readonly<Record<keyof Faults, { mark: '@' | '='; low: number; high: number }>> = {
  dies: { mark: '@', low: 0, high: 2880 },
  sticks: { mark: '@', low: 0, high: 2880 },
  jumps: { mark: '@', low: 0, high: 2880 },
  offset: { mark: '=', low: -20, high: 20 },
  jitter: { mark: '=', low: 0, high: 10 },
  loses: { mark: '=', low: 0, high: 0.9 },
};
const AIR_C = 18;
const OUT_MIN = 5;

/**
 * Reads a list of faults.
 *
 * @param text `dies@40,sticks@60,jumps@30,offset=1.5,jitter=0.2,loses=0.1`; minutes of the day, K, share
 * @returns the faults, or what is wrong with the first that cannot be read
 */
export function readFaults(text: string): Result<Faults, string> {
  const faults: { -readonly [K in keyof Faults]: number } = {};
  for (const part of text.split(',').map((p) => p.trim())) {
    if (part === '') continue;
    const [, name = '', mark, number] = /^([a-z]+)([@=])(-?\d+(?:\.\d+)?)$/.exec(part) ?? [];
    const known = Object.hasOwn(KNOWN, name) ? KNOWN[name as keyof Faults] : undefined;
    const all = Object.entries(KNOWN).map(([k, f]) => `${k}${f.mark}${f.low}..${f.high}`);
    if (known === undefined || mark !== known.mark)
      return fail(`--faults has "${part}"; allowed: ${all.join(', ')}.`);
    const value = Number(number);
    if (value < known.low || value > known.high)
      return fail(`--faults has "${part}"; allowed: ${known.low} to ${known.high}.`);
    faults[name as keyof Faults] = value;
  }
  return ok(faults);
}

/** A probe that shows what is so, but for its faults. The same seed shows the same. */
export class FaultyProbe {
  readonly #faults: Faults;
  readonly #seed: number;
  #count = 0;
  #stuckAt: number | undefined;

  constructor(faults: Faults, seed: number) {
    this.#faults = faults;
    this.#seed = seed;
  }

  /**
   * What it sends.
   *
   * @param trueC what is so [°C]
   * @param minute of the day
   * @returns to a hundredth [°C]; undefined when it sends nothing
   */
  shows(trueC: number, minute: number): number | undefined {
    const { dies, sticks, jumps, offset = 0, jitter = 0, loses = 0 } = this.#faults;
    this.#count += 1;
    if (dies !== undefined && minute >= dies) return undefined;
    if (this.#chance('lost') < loses) return undefined;
    const out = jumps !== undefined && minute >= jumps && minute < jumps + OUT_MIN;
    const at = out ? AIR_C : trueC;
    const now = at + offset + jitter * (2 * this.#chance('jitter') - 1);
    if (sticks !== undefined && minute >= sticks) {
      this.#stuckAt ??= now;
      return Number(this.#stuckAt.toFixed(2));
    }
    return Number(now.toFixed(2));
  }

  /** A number from 0 to below 1 that follows from seed and count. */
  #chance(of: string): number {
    const sum = createHash('sha256').update(`${this.#seed} ${this.#count} ${of}`).digest();
    return sum.readUInt32BE(0) / 2 ** 32;
  }
}
