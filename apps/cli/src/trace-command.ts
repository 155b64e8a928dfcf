/** `trace FILE`: the mash kinetics for prescribed temperature histories. */
import { PLAIN_PARAMETERS, RECOMMENDED_PARAMETERS, runTrace } from '@ladlework/brewhouse';
import { columns, EXIT, type ExitCode, type Output, refuse, writeJson } from './output.ts';
import { readJson } from './read-json.ts';

export interface TraceCommandOptions {
  readonly json: boolean;
  readonly parameters: 'plain' | 'recommended';
}

/** What of a record is worth a line to the eye, and its decimals. */
const SHOWN = [
  ['t_min', 1],
  ['T_C', 1],
  ['extract_kg', 4],
  ['wort_extract_pct', 2],
  ['limit_apparent_pct', 1],
  ['starch_ungelatinised_kg', 4],
  ['alpha_left', 3],
  ['beta_left', 3],
] as const;

/**
 * Runs every trace of a document and fills in what the engine expects.
 *
 * @returns 0, or 2 when the document is wrong
 */
export async function traceCommand(
  output: Output,
  file: string,
  options: TraceCommandOptions,
): Promise<ExitCode> {
  const json = await readJson(file);
  if (!json.ok) return refuse(output, json.error);
  const parameters = options.parameters === 'plain' ? PLAIN_PARAMETERS : RECOMMENDED_PARAMETERS;
  const run = runTrace(json.value, parameters);
  if (!run.ok) return refuse(output, ...run.faults.map((f) => `${file}: ${f.message}`));
  if (options.json) writeJson(output, run.doc);
  else output.out(traceText(run.doc));
  return EXIT.ok;
}

interface FilledTrace {
  readonly id: string;
  readonly title?: string;
  readonly expected: readonly Readonly<Record<string, number | string>>[];
}

function traceText(doc: Readonly<Record<string, unknown>>): string {
  // runTrace has filled `expected` of every trace it read.
  const traces = doc.traces as readonly FilledTrace[];
  return traces
    .map((trace) => {
      const rows = trace.expected.map((record) => [
        ...SHOWN.map(([name, digits]) => Number(record[name]).toFixed(digits)),
        String(record.vessel),
        String(record.label),
      ]);
      const head = [...SHOWN.map(([name]) => name), 'vessel', 'label'];
      const title = trace.title === undefined ? trace.id : `${trace.id}: ${trace.title}`;
      return `${title}\n${columns([head, ...rows], '  ')}\n`;
    })
    .join('\n');
}
