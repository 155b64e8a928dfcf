import type { MashedMalt } from './malt.ts';
import { type MashParameters, PLAIN_PARAMETERS } from './parameters.ts';

/** A fault in a trace document: where, what, and what is allowed. */
export interface TraceFault {
  readonly field: string;
  readonly value: unknown;
  readonly allowed: string;
  readonly message: string;
}

export type TraceStep =
  | { readonly op: 'mash_in'; readonly vessel: string; readonly T_C: number }
  | {
      readonly op: 'run';
      readonly vessel: string;
      readonly label: string;
      readonly segments: readonly (readonly [number, number, number])[];
    }
  | {
      readonly op: 'pull';
      readonly from: string;
      readonly to: string;
      readonly solid_share: number;
      readonly liquid_share: number;
    }
  | { readonly op: 'evaporate'; readonly vessel: string; readonly water_kg: number }
  | {
      readonly op: 'return';
      readonly from: string;
      readonly to: string;
      readonly landing_C: number;
    };

export interface TraceInput {
  readonly id: string;
  readonly massKg: number;
  readonly malt: MashedMalt;
  readonly waterKg: number;
  readonly overrides: Partial<MashParameters>;
  readonly steps: readonly TraceStep[];
}

type Json = Record<string, unknown>;

/** Collects faults while reading, so that one pass names them all. */
class Reader {
  readonly faults: TraceFault[] = [];

  fault(field: string, value: unknown, allowed: string): void {
    const shown = value === undefined ? 'missing' : JSON.stringify(value);
    const message = `${field} is ${shown}; it must be ${allowed}`;
    this.faults.push({ field, value, allowed, message });
  }

  object(value: unknown, field: string): Json {
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Json;
    this.fault(field, value, 'an object');
    return {};
  }

  list(value: unknown, field: string): readonly unknown[] {
    if (Array.isArray(value) && value.length > 0) return value;
    this.fault(field, value, 'a list with at least one entry');
    return [];
  }

  number(value: unknown, field: string, low: number, high: number, unit: string): number {
    if (typeof value === 'number' && value >= low && value <= high) return value;
    this.fault(field, value, `a number from ${low} to ${high}${unit}`);
    return Number.NaN;
  }

  text(value: unknown, field: string): string {
    if (typeof value === 'string' && value.length > 0) return value;
    this.fault(field, value, 'a text that is not empty');
    return '';
  }
}

const OVERRIDABLE = new Set(Object.keys(PLAIN_PARAMETERS));

function readMalt(read: Reader, raw: Json, field: string): MashedMalt {
  const malt: MashedMalt = {
    kind: 'mashed',
    moisture: read.number(raw.moisture, `${field}.moisture`, 0, 0.5, ' kg/kg'),
    starch: read.number(raw.starch_db, `${field}.starch_db`, 0, 0.9, ' kg/kg dry'),
    preformed: read.number(raw.preformed_db, `${field}.preformed_db`, 0, 0.5, ' kg/kg dry'),
    other: read.number(raw.other_db, `${field}.other_db`, 0, 0.5, ' kg/kg dry'),
    alpha: read.number(raw.alpha, `${field}.alpha`, 0, 4, ''),
    beta: read.number(raw.beta, `${field}.beta`, 0, 4, ''),
    limitDextrinase: read.number(raw.limit_dextrinase, `${field}.limit_dextrinase`, 0, 4, ''),
  };
  const sum = malt.starch + malt.preformed + malt.other;
  if (sum > 1) read.fault(`${field}.starch_db + preformed_db + other_db`, sum, 'at most 1');
  return malt;
}

function readOverrides(read: Reader, raw: Json, field: string): Partial<MashParameters> {
  const overrides: Record<string, number> = {};
  for (const [name, value] of Object.entries(raw)) {
    if (!OVERRIDABLE.has(name))
      read.fault(`${field}.${name}`, value, `one of ${[...OVERRIDABLE].join(', ')}`);
    else if (typeof value !== 'number' || !Number.isFinite(value))
      read.fault(`${field}.${name}`, value, 'a finite number');
    else overrides[name] = value;
  }
  return overrides;
}

function readSegments(read: Reader, value: unknown, field: string): [number, number, number][] {
  return read.list(value, field).map((entry, i) => {
    const here = `${field}[${i}]`;
    if (!Array.isArray(entry) || entry.length !== 3) {
      read.fault(here, entry, 'three numbers: minutes, from_C, to_C');
      return [Number.NaN, Number.NaN, Number.NaN];
    }
    return [
      read.number(entry[0], `${here}[0]`, 0, 1440, ' min'),
      read.number(entry[1], `${here}[1]`, 0, 105, ' °C'),
      read.number(entry[2], `${here}[2]`, 0, 105, ' °C'),
    ];
  });
}

function readStep(read: Reader, value: unknown, field: string): TraceStep | undefined {
  const raw = read.object(value, field);
  const vessel = (key: string) => read.text(raw[key], `${field}.${key}`);
  switch (raw.op) {
    case 'mash_in':
      return {
        op: 'mash_in',
        vessel: vessel('vessel'),
        T_C: read.number(raw.T_C, `${field}.T_C`, 0, 105, ' °C'),
      };
    case 'run':
      return {
        op: 'run',
        vessel: vessel('vessel'),
        label: typeof raw.label === 'string' ? raw.label : '',
        segments: readSegments(read, raw.segments, `${field}.segments`),
      };
    case 'pull':
      return {
        op: 'pull',
        from: vessel('from'),
        to: vessel('to'),
        solid_share: read.number(raw.solid_share, `${field}.solid_share`, 0, 1, ''),
        liquid_share: read.number(raw.liquid_share, `${field}.liquid_share`, 0, 1, ''),
      };
    case 'evaporate':
      return {
        op: 'evaporate',
        vessel: vessel('vessel'),
        water_kg: read.number(raw.water_kg, `${field}.water_kg`, 0, 1e6, ' kg'),
      };
    case 'return':
      if (raw.arrives_C !== undefined)
        read.number(raw.arrives_C, `${field}.arrives_C`, 0, 105, ' °C');
      return {
        op: 'return',
        from: vessel('from'),
        to: vessel('to'),
        landing_C: read.number(raw.landing_C, `${field}.landing_C`, 0, 105, ' °C'),
      };
    default:
      read.fault(`${field}.op`, raw.op, 'mash_in, run, pull, evaporate or return');
      return undefined;
  }
}

/** Which vessels hold mash at each step; a step on an empty one is a fault. */
function checkVessels(
  read: Reader,
  steps: readonly (TraceStep | undefined)[],
  field: string,
): void {
  const holding = new Set<string>();
  let mashedIn = false;
  steps.forEach((step, i) => {
    if (step === undefined) return;
    const here = `${field}[${i}]`;
    const needs = (name: string, key: string) => {
      if (!holding.has(name))
        read.fault(`${here}.${key}`, name, 'a vessel that holds mash at this step');
    };
    if (step.op === 'mash_in') {
      if (mashedIn) read.fault(`${here}.op`, step.op, 'used once: all malt enters at minute 0');
      mashedIn = true;
      holding.add(step.vessel);
    } else if (step.op === 'run' || step.op === 'evaporate') needs(step.vessel, 'vessel');
    else if (step.op === 'pull') {
      needs(step.from, 'from');
      if (holding.has(step.to)) read.fault(`${here}.to`, step.to, 'an empty vessel');
      holding.add(step.to);
    } else {
      needs(step.from, 'from');
      needs(step.to, 'to');
      if (step.from === step.to) read.fault(`${here}.to`, step.to, 'another vessel than from');
      else holding.delete(step.from);
    }
  });
}

/**
 * Reads a trace document.
 *
 * @param doc  parsed JSON
 * @returns the traces, or every fault found, each naming field, value and what is allowed
 * @source docs/science/mash.md, section Trace format
 */
export function readTraces(
  doc: unknown,
):
  | { readonly ok: true; readonly traces: readonly TraceInput[] }
  | { readonly ok: false; readonly faults: readonly TraceFault[] } {
  const read = new Reader();
  const root = read.object(doc, 'document');
  if (root.format !== undefined && root.format !== 'mash-trace/1')
    read.fault('format', root.format, '"mash-trace/1"');
  const traces = read.list(root.traces, 'traces').map((value, i): TraceInput => {
    const field = `traces[${i}]`;
    const raw = read.object(value, field);
    const malt = read.object(raw.malt, `${field}.malt`);
    const steps = read
      .list(raw.steps, `${field}.steps`)
      .map((step, k) => readStep(read, step, `${field}.steps[${k}]`));
    checkVessels(read, steps, `${field}.steps`);
    return {
      id: typeof raw.id === 'string' ? raw.id : String(i),
      massKg: read.number(malt.mass_kg, `${field}.malt.mass_kg`, 1e-6, 1e6, ' kg'),
      malt: readMalt(read, malt, `${field}.malt`),
      waterKg: read.number(raw.water_kg, `${field}.water_kg`, 1e-6, 1e7, ' kg'),
      overrides: readOverrides(
        read,
        raw.parameter_overrides === undefined
          ? {}
          : read.object(raw.parameter_overrides, `${field}.parameter_overrides`),
        `${field}.parameter_overrides`,
      ),
      steps: steps.filter((step) => step !== undefined),
    };
  });
  return read.faults.length > 0 ? { ok: false, faults: read.faults } : { ok: true, traces };
}
