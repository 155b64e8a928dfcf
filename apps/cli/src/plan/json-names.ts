/** Names of plain data as JSON of this program has them: snake case, the unit as it is written. */

/** Unit at the end of a name, and as it is written; longer ones first. */
const UNITS: readonly (readonly [string, string])[] = [
  ['MgLCaCO3', 'mg_L_CaCO3'],
  ['PerML', 'per_mL'],
  ['GPerL', 'g_L'],
  ['MgL', 'mg_L'],
  ['UgL', 'ug_L'],
  ['KgH', 'kg_h'],
  ['LMin', 'L_min'],
  ['KWh', 'kWh'],
  ['KPa', 'kPa'],
  ['MEq', 'mEq'],
  ['KW', 'kW'],
  ['ML', 'mL'],
  ['L', 'L'],
  ['C', 'C'],
];

function named(key: string): string {
  for (const [end, written] of UNITS)
    if (key.endsWith(end) && /[a-z0-9]$/.test(key.slice(0, -end.length)))
      return `${snake(key.slice(0, -end.length))}_${written}`;
  return snake(key);
}

const snake = (key: string): string => key.replace(/(?<=[a-z0-9])([A-Z])/g, '_$1').toLowerCase();

/**
 * Plain data with its names written so.
 *
 * @example jsonNames({ coldL: 2, leftKWh: 3, wishes: [{ wanted: 1 }] })
 *   // { cold_L: 2, left_kWh: 3, wishes: [{ wanted: 1 }] }
 */
export function jsonNames(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(jsonNames);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, v]) => [named(key), jsonNames(v)]));
}
