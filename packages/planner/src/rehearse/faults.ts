/** What a rehearsal can spring on the brewer, and when. */
import { type Random, seededRandom } from '@ladlework/numerics';
import type { BrewDay } from '../day.ts';
import type { PullGroup } from '../live-returns.ts';
import { scattered } from './scatter.ts';

/** Every fault there is, by the name it is asked for. */
export const FAULTS = [
  'late-pot',
  'slipping-tun',
  'wrong-thermometer',
  'pump-dies',
  'weak-burner',
  'helper-gone',
  'spilled-ladles',
] as const;

export type FaultName = (typeof FAULTS)[number];

/** One fault of a rehearsal, at one pull of the day. */
export interface Fault {
  readonly name: FaultName;
  /** Pull it comes with, from 1. */
  readonly pull: number;
  /** How bad: late [min], off [K], share of the fire left, portions spilled, times as slow. */
  readonly size: number;
  /** Why this kit cannot have it; left out when it can. */
  readonly cannot?: string;
}

/** How bad each is, from and to. Our judgement, after field.md's list of what goes wrong. */
const SIZES: Readonly<Record<FaultName, readonly [number, number]>> = {
  'late-pot': [12, 25],
  'slipping-tun': [3, 6],
  'wrong-thermometer': [2.5, 4],
  'pump-dies': [2.5, 3.5],
  'weak-burner': [0.5, 0.75],
  'helper-gone': [1.5, 2],
  'spilled-ladles': [1, 2],
};
/** Keep what the seed decides apart. */
const FAULT = 1;
const SURPRISE = 2;
const WHOLE: ReadonlySet<FaultName> = new Set(['spilled-ladles', 'late-pot']);

/**
 * The faults asked for, each at a pull and of a size that the seed decides.
 * @param day the day
 * @param pulls its pulls
 * @param names which; each at most once
 * @param seed 32-bit integer
 * @returns none when the day has no pull
 */
export function drawFaults(
  day: BrewDay,
  pulls: readonly PullGroup[],
  names: readonly FaultName[],
  seed: number,
): Fault[] {
  if (pulls.length === 0) return [];
  const random = seededRandom(scattered(seed, FAULT));
  return FAULTS.filter((name) => names.includes(name)).map((name) => {
    const pull = 1 + Math.floor(random() * pulls.length);
    const size = sizeOf(name, random);
    const cannot = cannotBe(day, name);
    return { name, pull, size, ...(cannot === undefined ? {} : { cannot }) };
  });
}

/** One or two faults nobody chose, of those this kit can have. */
export function surpriseFaults(day: BrewDay, seed: number): FaultName[] {
  const random = seededRandom(scattered(seed, SURPRISE));
  const can = FAULTS.filter((name) => cannotBe(day, name) === undefined);
  const count = random() < 0.5 ? 1 : 2;
  const chosen: FaultName[] = [];
  for (let i = 0; i < count && can.length > 0; i++)
    chosen.push(...can.splice(Math.floor(random() * can.length), 1));
  return chosen;
}

function sizeOf(name: FaultName, random: Random): number {
  const [from, to] = SIZES[name];
  const size = from + (to - from) * random();
  if (name === 'wrong-thermometer') return random() < 0.5 ? -size : size;
  return WHOLE.has(name) ? Math.round(size) : size;
}

function cannotBe(day: BrewDay, name: FaultName): string | undefined {
  if (name === 'pump-dies' && day.pullRoute.how !== 'pump')
    return `no pump: ${day.pullRoute.name} carries the pull`;
  if (name === 'helper-gone' && day.hands.length < 2) return 'no helper: one pair of hands';
  return undefined;
}
