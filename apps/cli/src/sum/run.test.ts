import { describe, expect, it } from 'vitest';
import { ladlework, ladleworkJson, sum } from '../testing.ts';
import { SUMS } from './sums.ts';

/** Names other programs rely on: sum, arguments, results. They do not change. */
const FIXED: Readonly<Record<string, readonly [args: string, results: string]>> = {
  water: ['t', 'density_kg_m3 cp_kJ_kgK enthalpy_kJ_kg viscosity_mPas'],
  'boiling-point': ['altitude_m pressure_kPa plato', 't_C'],
  plato: ['sg', 'plato'],
  sg: ['plato', 'sg'],
  wort: ['plato t', 'density_kg_m3 cp_kJ_kgK viscosity_mPas boiling_rise_K'],
  strike: ['grist_kg grist_C moisture_pct water_kg tun_kJ_K tun_C to_C', 't_C'],
  mix: ['main_kJ_K main_C pull_kJ_K pull_C tun_kJ_K', 't_C'],
  pull: ['mash_kJ_K mash_L tun_kJ_K from_C to_C arrive_C boiled_off_kg', 'fraction litres'],
  'open-surface': ['t_C air_C area_m2', 'evaporation_W kg_h'],
  'cooling-off': ['kJ_K UA_W_K from_C air_C minutes', 't_C'],
  lift: ['load_kg h_cm v_cm d_cm a_deg per_min hours coupling', 'limit_kg index'],
  alcohol: ['oe ae', 'abv_pct abw_pct re_plato rdf_pct adf_pct'],
  'residual-alkalinity': ['ca mg alkalinity', 'mg_L_CaCO3 dH'],
  co2: ['t pressure_kPa volumes', 'volumes g_L pressure_kPa'],
  barrels: ['containers count', 'barrels'],
};

const typedOf = (example: string) => example.split(' ');

describe('names', () => {
  it.each(Object.entries(FIXED))('%s', async (name, [args, results]) => {
    const found = SUMS.find((s) => s.name === name);
    expect(Object.keys(found?.arguments ?? {})).toEqual(expect.arrayContaining(args.split(' ')));
    const json = await ladleworkJson('sum', name, ...typedOf(found?.example ?? ''));
    for (const result of results.split(' ')) expect(json[result], result).toBeTypeOf('number');
  });
});

describe.each(SUMS.map((s) => [s.name, s] as const))('sum %s', (name, own) => {
  it('answers its own example with every result, its source and its range', async () => {
    const json = await ladleworkJson<Record<string, unknown> & { range: Record<string, unknown> }>(
      'sum',
      name,
      ...typedOf(own.example),
    );
    for (const result of Object.keys(own.results))
      expect(json[result], result).toBeTypeOf('number');
    expect(json.source).toBe(own.source);
    expect(own.source.length).toBeGreaterThan(10);
    for (const limits of Object.values(json.range)) {
      const { min, max } = limits as { min: number; max: number };
      expect(min).toBeLessThan(max);
    }
    const page = await ladlework('sum', name, ...typedOf(own.example));
    expect(page.code).toBe(0);
    for (const [result, { unit }] of Object.entries(own.results))
      expect(page.out).toMatch(new RegExp(`^${result} .*${unit.replace(/[()/]/g, '\\$&')}`, 'm'));
    expect(page.out).toContain(own.equation);
    expect(page.out).toContain(own.source);
  });

  it('names every argument that is missing, with its range', async () => {
    const ran = await ladlework('sum', name);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    for (const [key, a] of Object.entries(own.arguments))
      if (!a.optional)
        expect(ran.err).toContain(`${key} is missing: ${a.what}; allowed: ${a.allowed}`);
  });

  it('refuses each argument beyond its range, with exit 2', async () => {
    for (const [key, a] of Object.entries(own.arguments)) {
      if (a.limits === undefined) continue;
      const others = typedOf(own.example).filter((t) => !t.startsWith(`${key}=`));
      for (const value of [a.limits.min - 1, a.limits.max + 1]) {
        const ran = await ladlework('sum', name, ...others, `${key}=${value}`);
        expect(ran.code, `${key}=${value}`).toBe(2);
        expect(ran.err).toContain(`${key}: "${value}" is outside the allowed range; allowed: `);
      }
    }
  });
});

describe('units', () => {
  it.each([
    ['water', 't=152f', 't=66.6666666666667'],
    ['boiling-point', 'altitude_m=5280ft', 'altitude_m=1609.344'],
    ['boiling-point', 'pressure_kPa=14.5038psi', 'pressure_kPa=100.00018'],
    ['plato', 'sg=12°P', 'sg=1.048369232951504'],
    ['alcohol', 'oe=1.048sg ae=2.5', 'oe=11.9120807562241 ae=2.5'],
    [
      'strike',
      'grist_kg=10lb grist_C=64.4f moisture_pct=4% water_kg=28kg tun_kJ_K=3 tun_C=68°F to_C=126f',
      'grist_kg=4.5359237 grist_C=18 moisture_pct=4 water_kg=28 tun_kJ_K=3 tun_C=20 to_C=52.2222222222',
    ],
    [
      'open-surface',
      't_C=150f air_C=60f area_m2=10ft2',
      't_C=65.5555555556 air_C=15.5555555556 area_m2=0.92903',
    ],
    [
      'cooling-off',
      'kJ_K=134 UA_W_K=5 from_C=66 air_C=20 minutes=1:30',
      'kJ_K=134 UA_W_K=5 from_C=66 air_C=20 minutes=90',
    ],
    ['evaporation', 'net_kW=12000BTU/h', 'net_kW=3.516853'],
    ['co2', 't=38f pressure_kPa=12psi', 't=3.3333333333 pressure_kPa=82.737'],
    [
      'bitterness',
      'hops_g=16oz alpha_pct=4.5 minutes=60 sg=12°P volume_L=3bbl',
      'hops_g=453.59237 alpha_pct=4.5 minutes=1h sg=1.048369232951504 volume_L=352.0433',
    ],
    [
      'lift',
      'load_kg=25lb h_cm=12in v_cm=4in d_cm=40in a_deg=0 per_min=1 hours=1 coupling=good',
      'load_kg=11.33981 h_cm=30.48 v_cm=10.16 d_cm=101.6 a_deg=0 per_min=1 hours=1 coupling=good',
    ],
  ])('%s: %s is %s', async (name, us, metric) => {
    const a = await sum(name, us);
    const b = await sum(name, metric);
    for (const result of Object.keys(SUMS.find((s) => s.name === name)?.results ?? {}))
      expect((a[result] ?? Number.NaN) / (b[result] ?? Number.NaN), result).toBeCloseTo(1, 5);
  });

  it('a gravity typed without its unit is not taken for °P', async () => {
    const ran = await ladlework('sum', 'alcohol', 'oe=1.048', 'ae=1.010');
    expect(ran.code).toBe(2);
    expect(ran.err).toContain(
      'allowed: 1.5 to 40 °P. Check the number and whether it is °P or SG.',
    );
  });
});

describe('refusals', () => {
  it.each([
    ['a name nobody knows', ['nonsense'], 'sum "nonsense" is not known; known: water, '],
    [
      'an unknown argument',
      ['water', 'T=66'],
      'T is not an argument here; known: t. Check the spelling.',
    ],
    [
      'an argument of another making',
      ['water', '__proto__=1'],
      '__proto__ is not an argument here',
    ],
    ['no equals sign', ['water', '66'], '"66" is not an argument; write key=value, as in t=66.'],
    ['one twice', ['water', 't=66', 't=67'], 't is given twice; give it once.'],
    [
      'a word for a number',
      ['water', 't=warm'],
      't: "warm" does not begin with a number; allowed: -20 °C to 110 °C.',
    ],
    [
      'a unit of something else',
      ['water', 't=66kg'],
      't: "66kg" has a unit that is not known here',
    ],
    [
      'height and pressure',
      ['boiling-point', 'altitude_m=0', 'pressure_kPa=100'],
      'one of the two and not both',
    ],
    ['neither of them', ['co2', 't=2'], 'give pressure_kPa (0 to 600 kPa) or volumes (0 to 7.5)'],
    [
      'a rest below the mash',
      'pull mash_kJ_K=100 mash_L=30 tun_kJ_K=3 from_C=60 to_C=50 arrive_C=90 boiled_off_kg=0'.split(
        ' ',
      ),
      'wanted temperature is 50 °C; it must be between 60 and 90 °C',
    ],
    [
      'a grip there is not',
      'lift load_kg=1 h_cm=30 v_cm=30 d_cm=30 a_deg=0 per_min=1 hours=1 coupling=firm'.split(' '),
      'coupling: "firm" is not one of the choices; allowed: good, fair, poor.',
    ],
    [
      'containers of nothing',
      ['barrels', 'containers=0x355ml'],
      'containers: "0x355ml" holds no container; allowed: as 12x355ml',
    ],
    [
      'half a case',
      ['barrels', 'containers=24x12floz', 'count=1.5'],
      'count is 1.5; allowed: a whole number, 1 to 1000000.',
    ],
    [
      'a malt without a colour',
      ['colour', 'malts=80kg', 'volume_L=400'],
      'malts: "80kg" holds "80kg", which is not a mass, @ and a colour',
    ],
    [
      'a beer lighter than its alcohol',
      ['alcohol', 'oe=10', 'ae=-4.9'],
      'apparent extract is -4.9 °P; it must be between',
    ],
  ] as const)('%s', async (_, argv, message) => {
    const ran = await ladlework('sum', ...argv);
    expect(ran.code).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(message);
  });
});

describe('sum --list', () => {
  it('has every sum, once, as text and as JSON', async () => {
    const text = await ladlework('sum', '--list');
    const json = await ladleworkJson<{ name: string; arguments: { allowed: string }[] }[]>(
      'sum',
      '--list',
    );
    expect(json.map((s) => s.name)).toEqual(SUMS.map((s) => s.name));
    for (const { name } of SUMS)
      expect(text.out.split('\n').filter((l) => l.startsWith(`${name} `))).toHaveLength(1);
    expect(json.every((s) => s.arguments.every((a) => a.allowed !== ''))).toBe(true);
  });
});
