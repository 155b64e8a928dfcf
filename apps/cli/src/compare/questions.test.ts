import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ladlework, ladleworkJson } from '../testing.ts';

const EXAMPLES = fileURLToPath(new URL('../../../../examples/', import.meta.url));
const TWO_PULL = join(EXAMPLES, 'two-pull.json');
const PRICES = join(EXAMPLES, 'prices/hollin-weir.json');
const FEW = ['--draws', '50'];

const fits = (out: string) => {
  for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
};

interface Grist {
  malts: { name: string; kg: number; bags?: number }[];
  extract_kg: { wanted: number; got: number };
  colour_ebc: { wanted: number; got: number };
}

describe('--instead', () => {
  it('meets colour and extract; the page says what it is not, in the pair of units', async () => {
    const { feasible, grist } = await ladleworkJson<{ feasible: boolean; grist: Grist }>(
      'compare',
      TWO_PULL,
      '--instead',
    );
    expect(feasible).toBe(true);
    expect(Math.abs(grist.extract_kg.got / grist.extract_kg.wanted - 1)).toBeLessThan(0.002);
    expect(Math.abs(grist.colour_ebc.got / grist.colour_ebc.wanted - 1)).toBeLessThan(0.005);
    const { code, out } = await ladlework('compare', TWO_PULL, '--instead', '--units', 'us');
    expect(code).toBe(0);
    expect(out).toMatch(/an alternative, not an\s+equivalent/);
    expect(out).not.toMatch(/\d kg\b/);
    fits(out);
  });

  it.each(['cannot', 'four-vessels', 'kettle-mash', 'one-pull', 'several-pots', 'three-pull'])(
    'the lots of examples/%s.json hold such a grist',
    async (name) => {
      const ran = await ladlework('compare', join(EXAMPLES, `${name}.json`), '--instead');
      expect(ran.code, ran.out).toBe(0);
    },
  );

  it('half bags are half bags; whole bags that cannot match end with 3 and the nearest', async () => {
    const half = await ladleworkJson<{ grist: Grist }>(
      'compare',
      TWO_PULL,
      '--instead',
      '--bags',
      'half-bags',
    );
    for (const m of half.grist.malts) {
      const halves = 2 * (m.bags ?? 0);
      expect(halves).toBeCloseTo(Math.round(halves), 9);
    }
    const { code, out } = await ladlework('compare', TWO_PULL, '--instead', '--bags', 'bags');
    expect(code).toBe(3);
    expect(out).toMatch(/The nearest, which misses:/);
    fits(out);
  });
});

describe('--what-if', () => {
  it('a sorted table with the prices of the file', async () => {
    const { changes, currency } = await ladleworkJson<{
      currency: string;
      changes: { feasible: boolean; price?: number; pay_back: { brews?: number; state: string } }[];
    }>('compare', TWO_PULL, ...FEW, '--what-if', '--prices', PRICES);
    expect(currency).toBe('€');
    expect(changes).toHaveLength(5);
    expect(changes[0]?.pay_back.state).toBe('now');
    const brews = changes.filter((c) => c.feasible).map((c) => c.pay_back.brews ?? Infinity);
    expect(brews).toEqual(brews.toSorted((a, b) => a - b));
    const { out } = await ladlework('compare', TWO_PULL, ...FEW, '--what-if', '--units', 'us');
    expect(out).toMatch(/name its price to see/);
    expect(out).not.toMatch(/\d L\b/);
    fits(out);
  });
});

describe('--to-kit', () => {
  it('the brew on the other kit can be planned as it stands', async () => {
    const scaled = await ladleworkJson<{
      document: unknown;
      factor: number;
      not_kept: { what: string }[];
    }>(
      'compare',
      TWO_PULL,
      ...FEW,
      '--to-kit',
      join(EXAMPLES, 'four-vessels.json'),
      '--grist',
      '230 kg',
    );
    expect(scaled.factor).toBeCloseTo(230 / 88, 9);
    expect(scaled.not_kept.map((n) => n.what)).toContain('Arrival of pull 1');
    const folder = await mkdtemp(join(tmpdir(), 'ladlework-scale-'));
    try {
      const file = join(folder, 'house.json');
      await writeFile(file, JSON.stringify(scaled.document));
      const planned = await ladlework('plan', file, ...FEW);
      expect(planned.err).toBe('');
      expect(planned.code).toBe(0);
    } finally {
      await rm(folder, { recursive: true });
    }
  });

  it('a page with figures on both kits; a kit that lacks a vessel ends with 3', async () => {
    const page = await ladlework(
      'compare',
      TWO_PULL,
      ...FEW,
      '--to-kit',
      join(EXAMPLES, 'three-pull.json'),
    );
    expect(page.out).toMatch(/Not kept\n +here +there/);
    fits(page.out);
    const lacks = await ladlework(
      'compare',
      join(EXAMPLES, 'four-vessels.json'),
      ...FEW,
      '--to-kit',
      TWO_PULL,
    );
    expect(lacks.code).toBe(3);
    expect(lacks.out).toMatch(/No burner of .* heats Mash tun/);
  });
});

describe('--tasting and --published', () => {
  it('sheets with a key, the same for the same seed; answers judged', async () => {
    const sheets = await ladlework('compare', TWO_PULL, '--tasting', '12', '--seed', '4');
    expect(sheets.out).toMatch(/8 or more of 12 right/); // ISO 4120 Table A.1, from memory
    expect(sheets.out.match(/^Taster \d+ /gm)).toHaveLength(12);
    fits(sheets.out);
    expect((await ladlework('compare', TWO_PULL, '--tasting', '12', '--seed', '4')).out).toBe(
      sheets.out,
    );
    const result = await ladleworkJson<{ different: boolean }>(
      'compare',
      TWO_PULL,
      '--tasting',
      '12',
      '--right',
      '8',
    );
    expect(result.different).toBe(true);
  });

  it('published findings with those that do not agree', async () => {
    const { findings, contradictions } = await ladleworkJson<{
      findings: object[];
      contradictions: object[];
    }>('compare', TWO_PULL, '--published');
    expect(findings.length).toBeGreaterThan(8);
    expect(contradictions.length).toBeGreaterThan(3);
    fits((await ladlework('compare', TWO_PULL, '--published')).out);
  });
});

describe('what is asked wrong', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'ladlework-ask-'));
    await writeFile(join(folder, 'prices.json'), '{"prices":{"maltPerKg":"cheap"}}');
    await writeFile(join(folder, 'kit.json'), '{"id":"k"}');
  });
  afterAll(() => rm(folder, { recursive: true }));

  it.each([
    [['--right', '3'], /--right is of a tasting/],
    [['--tasting', '6', '--right', '7'], /--right is 7; allowed: 0 to 6/],
    [['--tasting', '2'], /--tasting is "2"; allowed: a whole number, 3 to 300/],
    [['--grist', 'much'], /--grist/],
    [['--prices', 'none.json'], /none\.json cannot be read/],
    [['--bags', 'sacks'], /Allowed choices are/],
  ])('%j ends with 2', async (asked, why) => {
    const ran = await ladlework('compare', TWO_PULL, ...asked);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(why);
  });

  it('a wrong price and a wrong kit are named with file and field', async () => {
    const prices = await ladlework('compare', TWO_PULL, '--prices', join(folder, 'prices.json'));
    expect(prices.code).toBe(2);
    expect(prices.err).toMatch(/prices\.json: prices\.maltPerKg/);
    const kit = await ladlework('compare', TWO_PULL, '--to-kit', join(folder, 'kit.json'));
    expect(kit.code).toBe(2);
    expect(kit.err).toMatch(/kit\.json: /);
  });
});
