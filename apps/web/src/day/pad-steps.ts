/** Numbers on the pad: kept in the unit shown, so that a step is a round number to the eye. */
import type { ReadingWhat } from '@ladlework/log';
import { sgFromPlato, toPlato } from '@ladlework/matter';
import {
  entryUnit,
  fromHouse,
  type Kind,
  parseExtract,
  toHouse,
  type UnitPair,
} from '@ladlework/quantity';

/** What a pad takes: a reading, or the rate of a run-off [L/min]. */
export type PadFigure = Exclude<ReadingWhat, 'iodine'> | 'flow';

export interface PadScale {
  readonly unit: string;
  /** Small, middle and large step, in the unit shown. */
  readonly steps: readonly [number, number, number];
  readonly digits: number;
  /** The unit a number was typed in, where another than the one shown is understood. */
  readonly unitOf: (shown: number) => string;
  readonly toSi: (shown: number) => number;
  readonly fromSi: (si: number) => number;
}

const KIND: Partial<Record<PadFigure, Kind>> = {
  temp: 'temperature',
  volume: 'volume',
  level: 'length',
};

/**
 * How a reading is shown and stepped.
 *
 * @param what temp, volume, level, gravity, ph or flow
 * @param pair the brewer's units
 * @param near an expected value in SI, which picks among gal and bbl
 */
export function padScale(what: PadFigure, pair: UnitPair, near: number): PadScale {
  const kind = KIND[what];
  if (kind !== undefined) {
    const unit = entryUnit(kind, pair, near);
    const [steps, digits] = stepsOf(unit);
    return {
      unit,
      unitOf: () => unit,
      steps,
      digits,
      toSi: (x) => toHouse(kind, unit, x),
      fromSi: (x) => fromHouse(kind, unit, x),
    };
  }
  const same = (x: number) => x;
  if (what === 'flow') return flowScale(pair);
  if (what === 'gravity') return extractScale(pair);
  return {
    unit: 'pH',
    unitOf: () => 'pH',
    steps: [0.01, 0.05, 0.1],
    digits: 2,
    toSi: same,
    fromSi: same,
  };
}

/** Litres or gallons a minute; a run-off is never read in hectolitres or barrels. */
function flowScale(pair: UnitPair): PadScale {
  const unit = pair.name === 'us' ? 'gal' : 'L';
  const shown = `${unit}/min`;
  return {
    unit: shown,
    unitOf: () => shown,
    steps: pair.name === 'us' ? [0.05, 0.1, 0.5] : [0.1, 0.5, 1],
    digits: pair.name === 'us' ? 2 : 1,
    toSi: (x) => toHouse('volume', unit, x),
    fromSi: (x) => fromHouse('volume', unit, x),
  };
}

/** °P or SG as the pair has it; a number that can only be the other one is taken as that. */
function extractScale(pair: UnitPair): PadScale {
  const inSg = pair.extract === 'sg';
  const read = (shown: number) => parseExtract(shown, { field: 'gravity' });
  return {
    unit: inSg ? 'SG' : '°P',
    steps: inSg ? [0.001, 0.005, 0.01] : [0.1, 0.5, 1],
    digits: inSg ? 3 : 1,
    unitOf: (shown) => {
      const extract = read(shown);
      return extract.ok && extract.value.notation === 'sg' ? 'SG' : '°P';
    },
    // What neither can be is refused by the check of the reading, which names the range.
    toSi: (shown) => {
      const extract = read(shown);
      return extract.ok ? toPlato(extract.value) : shown;
    },
    fromSi: (plato) => (inSg ? sgFromPlato(plato) : plato),
  };
}

function stepsOf(unit: string): [PadScale['steps'], number] {
  switch (unit) {
    case '°F':
      return [[0.2, 1, 2], 1];
    case '°C':
      return [[0.1, 0.5, 1], 1];
    case 'L':
      return [[1, 5, 10], 0];
    case 'gal':
      return [[0.25, 1, 5], 2];
    case 'bbl':
    case 'hL':
      return [[0.01, 0.05, 0.1], 2];
    case 'cm':
      return [[0.5, 1, 5], 1];
    default:
      return [[0.1, 0.5, 1], 1];
  }
}

/** One step up or down, on the round numbers of the step. */
export function stepped(shown: number, step: number, sign: 1 | -1, digits: number): number {
  const next = Math.round((shown + sign * step) / step) * step;
  // From between two round numbers the next one in the direction asked for, never the same.
  const moved =
    sign > 0 ? Math.max(next, shown + step * 0.01) : Math.min(next, shown - step * 0.01);
  return Number(
    (Math.abs(moved - shown) < step * 0.5 ? shown + sign * step : next).toFixed(digits),
  );
}
