import { expect, it } from 'vitest';
import { jsonNames } from './json-names.ts';

it('names are in snake case with their unit as it is written', () => {
  const names = {
    coldL: 1,
    extractKg: 1,
    evaporationKgH: 1,
    wortLMin: 1,
    leftKWh: 1,
    netKW: 1,
    acidML: 1,
    acidMEq: 1,
    millionPerML: 1,
    alkalinityMgLCaCO3: 1,
    calciumMgL: 1,
    freeDmsUgL: 1,
    tC: 1,
    toC: 1,
    endMin: 1,
    boilOverShare: 1,
    met: 1,
  };
  expect(Object.keys(jsonNames(names) as object)).toEqual([
    'cold_L',
    'extract_kg',
    'evaporation_kg_h',
    'wort_L_min',
    'left_kWh',
    'net_kW',
    'acid_mL',
    'acid_mEq',
    'million_per_mL',
    'alkalinity_mg_L_CaCO3',
    'calcium_mg_L',
    'free_dms_ug_L',
    't_C',
    'to_C',
    'end_min',
    'boil_over_share',
    'met',
  ]);
  expect(jsonNames([{ coldL: { low: 1 } }, null, 'x'])).toEqual([
    { cold_L: { low: 1 } },
    null,
    'x',
  ]);
});
