import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { ladlework, ladleworkJson } from '../testing.ts';

const EXAMPLES = fileURLToPath(new URL('../../../../examples/', import.meta.url));
const example = (name: string) => join(EXAMPLES, name);
const FEW = ['--draws', '50'];

interface RehearsalJson {
  readonly feasible: boolean;
  readonly returns: readonly { target_C: number; landed_C: number; textbook_C: number }[];
  readonly finish_min: number;
  readonly finish: string;
  readonly faults: readonly { fault: string; met: boolean; text: string }[];
}

const rehearse = (name: string, ...more: string[]) =>
  ladleworkJson<RehearsalJson>('rehearse', example(name), ...FEW, ...more);

describe('rehearse FILE --json', () => {
  it('has a landing, the target and the textbook of each return, and the finish', async () => {
    const day = await rehearse('two-pull.json', '--seed', '7');
    expect(day.returns.map((r) => r.target_C)).toEqual([72, 77]);
    for (const r of day.returns)
      expect(Math.abs(r.landed_C - r.target_C)).toBeLessThan(Math.abs(r.textbook_C - r.target_C));
    expect(day.finish_min).toBeGreaterThan(100);
    expect(day.finish).toMatch(/^\d\d:\d\d$/);
    expect(day.faults).toEqual([]);
  });

  it('meets the faults asked for, and another seed is another kit', async () => {
    const list = 'late-pot, spilled-ladles,late-pot';
    const one = await rehearse('one-pull.json', '--seed', '1', '--faults', list);
    const two = await rehearse('one-pull.json', '--seed', '2', '--faults', list);
    expect(one.faults.map((f) => [f.fault, f.met])).toEqual([
      ['late-pot', true],
      ['spilled-ladles', true],
    ]);
    expect(two.returns[0]?.landed_C).not.toBe(one.returns[0]?.landed_C);
  });

  it('rehearses every brew of a file', async () => {
    const both = await ladleworkJson<{ brews: RehearsalJson[] }>(
      'rehearse',
      example('two-brews.json'),
      ...FEW,
    );
    expect(both.brews).toHaveLength(2);
  });
});

describe('refusals', () => {
  it('names what a fault may be', async () => {
    const ran = await ladlework('rehearse', example('one-pull.json'), '--faults', 'flood');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/--faults: flood is no fault; allowed: late-pot, .*, or surprise/);
  });

  it('does not rehearse what the kit cannot do', async () => {
    const ran = await ladlework('rehearse', example('cannot.json'), ...FEW);
    expect(ran.code).toBe(3);
    expect(ran.err).toMatch(/cannot be rehearsed/);
  });

  it('wants a whole seed', async () => {
    const ran = await ladlework('rehearse', example('one-pull.json'), '--seed', 'soon');
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/--seed is "soon"; allowed: a whole number, 0 to 2147483647/);
  });
});
