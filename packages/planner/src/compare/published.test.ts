import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { contradictions, publishedComparisons } from './published.ts';

/** Text of a reference file, with line breaks and marks out of the way. */
const reference = (name: string) =>
  readFileSync(new URL(`../../../../reference/data/${name}`, import.meta.url), 'utf8');

describe('published comparisons', () => {
  it('every finding has a source, and what it is against is there and knows of it', () => {
    const all = publishedComparisons();
    const by = new Map(all.map((f) => [f.id, f]));
    expect(by.size).toBe(all.length);
    for (const f of all) {
      expect(f.source).not.toBe('');
      for (const other of f.against)
        expect(by.get(other)?.against, `${f.id} ${other}`).toContain(f.id);
    }
  });

  it('attenuation as in the reference data', () => {
    // mash-validation.csv, rows PP-single and PP-infusion: Pehlivani & Prifti 2013.
    const rows = reference('mash-validation.csv').split('\n');
    const single = rows.find((r) => r.startsWith('PP-single'));
    const infusion = rows.find((r) => r.startsWith('PP-infusion'));
    const { finding } = publishedComparisons('attenuation').find((f) => f.id === 'pehlivani') ?? {};
    expect(single).toMatch(/82\.33/);
    expect(infusion).toMatch(/80\.61/);
    expect(finding).toMatch(/82\.33 % by one decoction, 80\.61 % by infusion/);
  });

  it('tells each contradiction once, on attenuation, extract and tasting', () => {
    const pairs = contradictions();
    const keys = pairs.map((c) => [...c.of].sort().join());
    expect(new Set(keys).size).toBe(keys.length);
    expect(new Set(pairs.map((c) => c.topic))).toEqual(
      new Set(['attenuation', 'extract', 'sensory']),
    );
    for (const f of publishedComparisons().filter((g) => g.against.length > 0))
      expect(
        keys.some((k) => k.split(',').includes(f.id)),
        f.id,
      ).toBe(true);
  });

  it('promises no flavour', () => {
    for (const { finding } of publishedComparisons('sensory'))
      expect(finding).not.toMatch(/better beer|will taste|improves/i);
  });
});
