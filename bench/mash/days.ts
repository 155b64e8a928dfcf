/**
 * The two days every solver in this bench runs: prescribed temperatures, so that only the kinetics
 * are compared. Schedules are the classic three-mash decoction (35, 52, 63, 75 °C) and a step
 * infusion (52, 63, 72, 77 °C) of docs/science/mash.md, at 3.7 and 3.2 kg/kg.
 */
export type Move =
  | { readonly op: 'run'; readonly vessel: 'tun' | 'pot'; readonly line: readonly Knot[] }
  | { readonly op: 'pull'; readonly solid: number; readonly liquid: number }
  | { readonly op: 'evaporate'; readonly waterKg: number }
  | { readonly op: 'return' };

/** Minutes and temperature [°C]. */
export type Knot = readonly [number, number];

export interface Day {
  readonly name: string;
  readonly maltKg: number;
  readonly liquorKg: number;
  readonly moves: readonly Move[];
}

const run = (vessel: 'tun' | 'pot', ...line: Knot[]): Move => ({ op: 'run', vessel, line });

export const THREE_PULL_DAY: Day = {
  name: 'three-pull day',
  maltKg: 1,
  liquorKg: 3.7,
  moves: [
    run('tun', [0, 36], [20, 35]),
    { op: 'pull', solid: 0.38, liquid: 0.26 },
    run(
      'pot',
      [0, 35],
      [18, 52],
      [28, 52],
      [40, 65],
      [60, 65],
      [68, 72],
      [88, 72],
      [116, 99],
      [141, 99],
    ),
    run('tun', [0, 35], [141, 32]),
    { op: 'evaporate', waterKg: 0.06 },
    { op: 'return' },
    run('tun', [0, 52], [20, 51]),
    { op: 'pull', solid: 0.4, liquid: 0.28 },
    run('pot', [0, 51], [14, 65], [29, 65], [36, 72], [51, 72], [79, 99], [99, 99]),
    run('tun', [0, 51], [99, 49]),
    { op: 'evaporate', waterKg: 0.05 },
    { op: 'return' },
    run('tun', [0, 64], [25, 63]),
    { op: 'pull', solid: 0.08, liquid: 0.36 },
    run('pot', [0, 63], [36, 99], [48, 99]),
    run('tun', [0, 63], [48, 61]),
    { op: 'evaporate', waterKg: 0.04 },
    { op: 'return' },
    run('tun', [0, 74], [25, 73], [30, 76], [40, 76]),
  ],
};

export const INFUSION_DAY: Day = {
  name: 'infusion day',
  maltKg: 1,
  liquorKg: 3.2,
  moves: [
    run('tun', [0, 52], [15, 52], [26, 63], [61, 63], [70, 72], [95, 72], [100, 77], [105, 77]),
  ],
};
