import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { RECOMMENDED_PARAMETERS } from './parameters.ts';
import { runTrace, type TraceRecord } from './trace.ts';

const doc = JSON.parse(
  readFileSync(new URL('../../../../reference/data/mash-traces.json', import.meta.url), 'utf8'),
) as { traces: { id: string; steps: unknown[]; expected: Record<string, number | string>[] }[] };

function run(input: unknown) {
  const result = runTrace(input);
  if (!result.ok) throw new Error(result.faults.map((f) => f.message).join('\n'));
  return (result.doc as { traces: { expected: TraceRecord[] }[] }).traces;
}

function faultsOf(change: (copy: typeof doc) => void): string[] {
  const copy = structuredClone(doc);
  change(copy);
  const result = runTrace(copy);
  return result.ok ? [] : result.faults.map((f) => f.message);
}

// reference/data/mash-traces.json: implicit Runge-Kutta (Radau IIA, order 5) at 1e-11, made by
// another program. It asks 0.1 % above 1e-3 and 1e-6 below; nine digits are printed.
describe('published traces', () => {
  const ours = run(doc);
  doc.traces.forEach((trace, k) => {
    describe(trace.id, () => {
      trace.expected.forEach((expected, i) => {
        it(`record ${i}: ${expected.label}, ${expected.vessel}, minute ${expected.t_min}`, () => {
          const got = ours[k]!.expected[i]!;
          expect(Object.keys(got)).toEqual(Object.keys(expected));
          for (const [name, value] of Object.entries(expected)) {
            if (typeof value === 'string') expect(got[name]).toBe(value);
            else {
              const allowed = Math.max(1e-6 * Math.abs(value), 2e-9);
              expect(Math.abs((got[name] as number) - value), name).toBeLessThan(allowed);
            }
          }
        });
      });
      it('has as many records', () => {
        expect(ours[k]!.expected).toHaveLength(trace.expected.length);
      });
    });
  });
});

describe('trace documents', () => {
  it('ignore what is expected on the way in', () => {
    const copy = structuredClone(doc) as { traces: { expected: unknown }[] };
    for (const trace of copy.traces) trace.expected = 'nonsense';
    expect(run(copy)).toEqual(run(doc));
  });

  it('run with another parameter set when asked', () => {
    const result = runTrace(doc, RECOMMENDED_PARAMETERS);
    expect(result.ok && result.doc).not.toEqual(doc);
  });

  it('take single parameters from the file', () => {
    const copy = structuredClone(doc) as unknown as {
      traces: { parameter_overrides: Record<string, number> }[];
    };
    copy.traces[0]!.parameter_overrides = { kda65: 0 };
    expect(run(copy)[0]!.expected.at(-1)!.alpha_left).toBeCloseTo(1, 9);
  });

  it.each([
    ['nothing', null, 'document is null'],
    ['no traces', {}, 'traces is missing'],
    ['another format', { format: 'x', traces: doc.traces }, 'format is "x"'],
  ])('refuse %s', (_, input, message) => {
    const result = runTrace(input);
    expect(result.ok).toBe(false);
    expect(!result.ok && result.faults.map((f) => f.message).join('\n')).toContain(message);
  });

  it('name field, value and range of every fault at once', () => {
    const faults = faultsOf((copy) => {
      const trace = copy.traces[0] as unknown as {
        water_kg: number;
        malt: Record<string, number>;
        parameter_overrides: Record<string, number>;
        steps: Record<string, unknown>[];
      };
      trace.water_kg = -3;
      trace.malt.starch_db = 7;
      trace.parameter_overrides = { mood: 1 };
      trace.steps[0]!.T_C = 400;
      trace.steps[1]!.vessel = 'cellar';
      trace.steps[2]!.op = 'stir';
    });
    expect(faults).toEqual(
      expect.arrayContaining([
        expect.stringContaining('traces[0].water_kg is -3; it must be a number from'),
        expect.stringContaining('traces[0].malt.starch_db is 7'),
        expect.stringContaining('traces[0].parameter_overrides.mood is 1; it must be one of'),
        expect.stringContaining('traces[0].steps[0].T_C is 400'),
        expect.stringContaining('traces[0].steps[1].vessel is "cellar"'),
        expect.stringContaining('traces[0].steps[2].op is "stir"'),
      ]),
    );
  });

  it('refuse a return at two different minutes', () => {
    const faults = faultsOf((copy) => {
      const run = copy.traces[1]!.steps[4] as { segments: number[][] };
      run.segments[0]![0] = 60;
    });
    expect(faults.join()).toContain('at one minute in both vessels');
  });

  it('refuse to boil off more water than there is', () => {
    const faults = faultsOf((copy) => {
      (copy.traces[1]!.steps[5] as { water_kg: number }).water_kg = 1000;
    });
    expect(faults.join()).toContain('water_kg is 1000; it must be less than');
  });
});
