import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { ladlework, ladleworkJson } from './testing.ts';

const TRACES = fileURLToPath(new URL('../../../reference/data/mash-traces.json', import.meta.url));

interface TraceDocument {
  readonly traces: readonly {
    readonly id: string;
    readonly expected: readonly Readonly<Record<string, number | string>>[];
  }[];
}

describe('trace', () => {
  // reference/data/mash-traces.json, 0.2 % of each printed value.
  it('fills the published traces with the published values', async () => {
    const given = readDocument<TraceDocument>('mash-traces.json');
    const filled = await ladleworkJson<TraceDocument>('trace', TRACES);
    expect({ ...filled, traces: [] }).toEqual({ ...given, traces: [] });
    let compared = 0;
    given.traces.forEach((trace, n) => {
      const found = filled.traces[n];
      expect(found?.expected).toHaveLength(trace.expected.length);
      trace.expected.forEach((row, i) => {
        for (const [key, value] of Object.entries(row)) {
          const ours = found?.expected[i]?.[key];
          if (typeof value === 'string') expect(ours).toBe(value);
          else {
            const off = Math.abs((ours as number) - value);
            expect(off, `${trace.id} ${i} ${key}`).toBeLessThanOrEqual(
              0.002 * Math.abs(value) + 1e-9,
            );
            compared += 1;
          }
        }
      });
    });
    expect(compared).toBeGreaterThan(500);
  });

  it('as text: a table a trace, one line a record', async () => {
    const { code, out } = await ladlework('trace', TRACES);
    expect(code).toBe(0);
    expect(out).toMatch(/^S-1: step mash/);
    expect(out).toMatch(/\n {2}t_min +T_C +extract_kg/);
  });

  it('another parameter set gives another wort', async () => {
    const plain = await ladlework('trace', TRACES);
    const recommended = await ladlework('trace', TRACES, '--parameters', 'recommended');
    expect(recommended.code).toBe(0);
    expect(recommended.out).not.toBe(plain.out);
  });

  it('a fault names file, field, value and what is allowed', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'ladlework-trace-'));
    try {
      const path = join(folder, 'wrong.json');
      const [first] = readDocument<{ traces: Record<string, unknown>[] }>(
        'mash-traces.json',
      ).traces;
      await writeFile(path, JSON.stringify({ traces: [{ ...first, water_kg: -3 }] }));
      const ran = await ladlework('trace', path);
      expect(ran.code).toBe(2);
      expect(ran.out).toBe('');
      expect(ran.err).toMatch(/wrong\.json: traces\[0\]\.water_kg is -3; it must be /);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
