import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { ladlework, ladleworkJson } from '../testing.ts';

const EXAMPLES = fileURLToPath(new URL('../../../../examples/', import.meta.url));
const example = (name: string) => join(EXAMPLES, name);
const FEW = ['--draws', '50'];
const FIGURES = ['finish_h', 'hands_busy_min', 'carried_kg', 'energy_kWh', 'cost'] as const;

interface Band {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}
type Figures = Record<(typeof FIGURES)[number], Band>;
interface WayJson extends Figures {
  readonly method: string;
  readonly feasible: boolean;
  readonly why_not: string;
  readonly wort: Record<string, Band>;
  readonly against_own?: Record<string, Band>;
  readonly kilned?: { text: string; malts: { kg: number; was_kg: number }[] };
}
interface CompareJson {
  readonly ways: WayJson[];
  readonly menu: (Figures & { what: string; reason: string; wort: Record<string, Band> })[];
  readonly menu_search: { screened: number; infeasible: number; played: number };
}

const inOrder = (b: Band | undefined, of: string) => {
  expect(b, of).toBeDefined();
  expect(b?.low, of).toBeLessThanOrEqual(b?.likely as number);
  expect(b?.likely, of).toBeLessThanOrEqual(b?.high as number);
};

describe('compare FILE --json', () => {
  let answer: CompareJson;
  beforeAll(async () => {
    answer = await ladleworkJson<CompareJson>('compare', example('several-pots.json'), ...FEW);
  }, 300_000);

  it('has every way under its name', () => {
    expect(answer.ways.map((w) => w.method)).toEqual([
      'infusion',
      'step-infusion',
      'direct-heat',
      'one-pull',
      'two-pulls',
      'three-pulls',
      'kettle-mash',
      'no-pull-kilned-malts',
    ]);
  });

  it('bands where the kit can do it, a reason where it cannot', () => {
    expect(answer.ways.some((w) => w.feasible)).toBe(true);
    for (const way of answer.ways) {
      if (way.feasible) {
        for (const f of FIGURES) inOrder(way[f], `${way.method} ${f}`);
        inOrder(way.wort.limit_apparent_pct, way.method);
        inOrder(way.wort.limit_apparent_narrow_pct, way.method);
        expect(way.why_not).toBe('');
      } else expect(way.why_not, way.method).not.toBe('');
    }
    const kilned = answer.ways.find((w) => w.method === 'no-pull-kilned-malts')?.kilned;
    expect(kilned?.text).toMatch(/not an equivalent/);
    expect(kilned?.malts.some((m) => m.was_kg === 0 && m.kg > 0)).toBe(true);
  });

  it('a menu of at most seven plans, each with its reason and bands', () => {
    const { menu, menu_search } = answer;
    expect(menu.length).toBeGreaterThan(2);
    expect(menu.length).toBeLessThanOrEqual(7);
    expect(menu_search.screened).toBeGreaterThan(100);
    for (const plan of menu) {
      expect(plan.reason, plan.what).not.toBe('');
      for (const f of FIGURES) inOrder(plan[f], `${plan.what} ${f}`);
    }
  });
});

describe('a plan that cannot be done', () => {
  it('has a proof: what clashes, and the smallest change of each that frees it', async () => {
    interface WithProof {
      readonly proof?: {
        readonly text: string;
        readonly limits: { code: string; change?: { amount: number; unit: string } }[];
      }[];
    }
    const { proof } = await ladleworkJson<WithProof>('compare', example('cannot.json'), ...FEW);
    const [set] = proof ?? [];
    expect(set?.limits.map((l) => l.code)).toEqual([
      'loads',
      'boiling-liquor',
      'rest-temperature',
      'pot-volume',
    ]);
    for (const limit of set?.limits ?? []) expect(limit.change, limit.code).toBeDefined();
    expect(set?.text).toMatch(/Stock pot holds 60 L/);
  });
});

describe('the page', () => {
  it('fits 80 columns, keeps to one pair of units, says what this kit cannot do', async () => {
    const { code, out } = await ladlework(
      'compare',
      example('cannot.json'),
      ...FEW,
      '--units',
      'us',
    );
    expect(code).toBe(0);
    for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
    expect(out).toMatch(/Not on this kit\n {2}one pull: Rest 2 at 158\.0 °F cannot be reached/);
    expect(out).toMatch(/Menu: none of these is beaten/);
    expect(out).not.toMatch(/°C|\d kg|\d L\b/);
  });

  it('a file that is wrong ends with 2', async () => {
    const ran = await ladlework('compare', example('nothing.json'));
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/nothing\.json cannot be read/);
  });
});
