/**
 * `npm run bench` runs every bench, `npm run bench -- forecast append` those named. Speed is told
 * as a ratio to a baseline in the same process, never checked by a test: a busy machine is no fault.
 */
import { readdirSync } from 'node:fs';
import type { Bench, Ratio } from './support/measure.ts';

const folder = new URL('.', import.meta.url);
const names = readdirSync(folder)
  .filter((file) => file.endsWith('.ts') && file !== 'run.ts')
  .map((file) => file.replace(/\.ts$/, ''))
  .sort();

const time = (ms: number) => {
  if (ms >= 1000) return `${(ms / 1000).toPrecision(3)} s`;
  return ms >= 1 ? `${ms.toPrecision(3)} ms` : `${(ms * 1000).toPrecision(3)} µs`;
};

function print(rows: readonly Ratio[]): void {
  const cells = rows.map((row) => [
    row.what,
    time(row.ms),
    row.baseline,
    time(row.baselineMs),
    (row.ms / row.baselineMs).toPrecision(3),
    row.note ?? '',
  ]);
  const table = [['what', 'ours', 'baseline', 'its time', 'ratio', ''], ...cells];
  const widths = (table[0] ?? []).map((_, column) =>
    Math.max(...table.map((row) => (row[column] ?? '').length)),
  );
  for (const row of table) {
    console.log(
      `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd(),
    );
  }
}

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  console.error(`No bench is called ${unknown.join(', ')}. There are: ${names.join(', ')}.`);
  process.exit(2);
}
for (const name of wanted.length > 0 ? wanted : names) {
  const { bench }: { bench: Bench } = await import(new URL(`${name}.ts`, folder).href);
  console.log(`\n${name}: ${bench.about}`);
  print(await bench.run());
}
