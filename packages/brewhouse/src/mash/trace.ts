import { advanceMash, MashWorkspace } from './advance.ts';
import { compileMash } from './compile.ts';
import { emptyMash } from './layout.ts';
import { type MashBrought, startMash } from './malt.ts';
import { addMash, evaporate, freeWaterKg, takeShares } from './mixing.ts';
import { type MashParameters, PLAIN_PARAMETERS } from './parameters.ts';
import { mashResults } from './results.ts';
import { readTraces, type TraceFault, type TraceInput } from './trace-input.ts';

/** One line of output: a vessel at the end of a segment, or just after a pull or return. */
export type TraceRecord = Readonly<Record<string, number | string>>;

/** Relative error of a trace [-]: far below the 0.1 % by which traces are compared. */
const TRACE_TOLERANCE = 1e-8;
/** Clocks of two vessels agree when they differ by less than this [min]. */
const SAME_MINUTE = 1e-6;

interface Vessel {
  readonly state: Float64Array;
  minute: number;
  tempC: number;
}

function record(
  vessel: string,
  held: Vessel,
  step: number,
  segment: number,
  label: string,
  brought: MashBrought,
  parameters: MashParameters,
): TraceRecord {
  const r = mashResults(held.state, brought, parameters);
  return {
    step,
    segment,
    label,
    vessel,
    t_min: held.minute,
    T_C: held.tempC,
    extract_kg: r.extractKg,
    wort_extract_pct: r.wortExtractPct,
    fermentable_kg: r.fermentableKg,
    fermentable_share: r.fermentableShare,
    limit_real_pct: r.limitRealPct,
    limit_apparent_pct: r.limitApparentPct,
    starch_ungelatinised_kg: r.starchUngelatinisedKg,
    starch_gelatinised_kg: r.starchGelatinisedKg,
    glucose_kg: r.glucoseKg,
    maltose_kg: r.maltoseKg,
    maltotriose_kg: r.maltotrioseKg,
    dextrin_kg: r.dextrinKg,
    limit_dextrin_kg: r.limitDextrinKg,
    preformed_kg: r.preformedKg,
    other_kg: r.otherKg,
    preformed_undissolved_kg: r.preformedUndissolvedKg,
    other_undissolved_kg: r.otherUndissolvedKg,
    water_kg: r.waterKg,
    alpha_left: r.alphaLeft,
    alpha_dissolved: r.alphaDissolved,
    beta_left: r.betaLeft,
    beta_labile_dissolved: r.betaLabileDissolved,
    beta_stable_dissolved: r.betaStableDissolved,
    beta_undissolved: r.betaUndissolved,
    limit_dextrinase_left: r.limitDextrinaseLeft,
    limit_dextrinase_dissolved: r.limitDextrinaseDissolved,
  };
}

/** Faults that only show while running: clocks apart at a return, more vapour than water. */
function runOne(
  trace: TraceInput,
  index: number,
  base: MashParameters,
): { records: TraceRecord[]; fault?: TraceFault } {
  const parameters = { ...base, ...trace.overrides };
  const compiled = compileMash(parameters);
  const workspace = new MashWorkspace();
  const parts = [{ malt: trace.malt, massKg: trace.massKg }];
  const start = startMash(parts, trace.waterKg, parameters);
  const vessels = new Map<string, Vessel>();
  const records: TraceRecord[] = [];
  const held = (name: string): Vessel => {
    const vessel = vessels.get(name);
    if (vessel === undefined) throw new Error(`vessel ${name} was checked to hold mash`);
    return vessel;
  };
  const fault = (field: string, value: unknown, allowed: string) => ({
    records,
    fault: {
      field: `traces[${index}].${field}`,
      value,
      allowed,
      message: `traces[${index}].${field} is ${JSON.stringify(value)}; it must be ${allowed}`,
    },
  });
  for (const [i, step] of trace.steps.entries()) {
    const add = (name: string, segment: number, label: string) =>
      records.push(record(name, held(name), i, segment, label, start.brought, parameters));
    switch (step.op) {
      case 'mash_in':
        vessels.set(step.vessel, { state: start.state, minute: 0, tempC: step.T_C });
        break;
      case 'run': {
        const vessel = held(step.vessel);
        step.segments.forEach(([minutes, fromC, toC], segment) => {
          advanceMash(
            vessel.state,
            compiled,
            [0, minutes],
            [fromC, toC],
            TRACE_TOLERANCE,
            workspace,
          );
          vessel.minute += minutes;
          vessel.tempC = toC;
          add(step.vessel, segment, step.label);
        });
        break;
      }
      case 'pull': {
        const from = held(step.from);
        const pot: Vessel = { state: emptyMash(), minute: from.minute, tempC: from.tempC };
        vessels.set(step.to, pot);
        takeShares(from.state, step.solid_share, step.liquid_share, pot.state);
        add(step.from, 0, 'pulled');
        add(step.to, 0, 'pulled');
        break;
      }
      case 'evaporate': {
        const vessel = held(step.vessel);
        const there = freeWaterKg(vessel.state);
        if (step.water_kg >= there)
          return fault(`steps[${i}].water_kg`, step.water_kg, `less than the ${there} kg there`);
        evaporate(vessel.state, step.water_kg);
        break;
      }
      case 'return': {
        const from = held(step.from);
        const to = held(step.to);
        if (Math.abs(from.minute - to.minute) > SAME_MINUTE)
          return fault(
            `steps[${i}].op`,
            step.op,
            `at one minute in both vessels; ${step.from} stands at ${from.minute}, ${step.to} at ${to.minute}`,
          );
        addMash(to.state, from.state);
        to.tempC = step.landing_C;
        vessels.delete(step.from);
        add(step.to, 0, 'returned');
        break;
      }
    }
  }
  return { records };
}

/**
 * Runs the kinetics for prescribed temperature histories.
 *
 * @param doc  parsed trace document; `expected` on input is ignored
 * @param parameters  parameter set; default plain, the set the published traces were made with
 * @returns the same document with every `expected` filled, or every fault found
 * @source docs/science/mash.md, section Trace format
 */
export function runTrace(
  doc: unknown,
  parameters: MashParameters = PLAIN_PARAMETERS,
):
  | { readonly ok: true; readonly doc: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly faults: readonly TraceFault[] } {
  const input = readTraces(doc);
  if (!input.ok) return input;
  const faults: TraceFault[] = [];
  const outputs = input.traces.map((trace, i) => {
    const { records, fault } = runOne(trace, i, parameters);
    if (fault !== undefined) faults.push(fault);
    return records;
  });
  if (faults.length > 0) return { ok: false, faults };
  // readTraces has shown that the document is an object whose traces are objects.
  const given = doc as Readonly<Record<string, unknown>>;
  const traces = given.traces as readonly Readonly<Record<string, unknown>>[];
  return {
    ok: true,
    doc: { ...given, traces: traces.map((trace, i) => ({ ...trace, expected: outputs[i] })) },
  };
}
