/**
 * Tries mechanisms the mash kinetics lack against the measured rows, each nested in the recommended
 * set, and prints the tables of docs/science/mash-open-questions.md. About three minutes on one core.
 *
 * `npx tsx bench/study/open-questions.ts [id ...]` runs those named, with the two shipped sets.
 */
import { YARDSTICK_ROWS } from '../../packages/brewhouse/src/mash/validation-rows.ts';
import { type Score, score } from './score.ts';
import { VARIANTS } from './variants.ts';

const wanted = process.argv.slice(2);
const unknown = wanted.filter((id) => !VARIANTS.some((variant) => variant.id === id));
if (unknown.length > 0)
  throw new Error(
    `no variant ${unknown.join(', ')}; there are ${VARIANTS.map(({ id }) => id).join(', ')}`,
  );
const ALWAYS = ['plain', 'recommended'];

const scores: Score[] = [];
for (const variant of VARIANTS) {
  if (wanted.length > 0 && !wanted.includes(variant.id) && !ALWAYS.includes(variant.id)) continue;
  const started = performance.now();
  scores.push(score(variant));
  console.error(`${variant.id}: ${((performance.now() - started) / 1000).toFixed(0)} s`);
}

const line = (cells: readonly string[]) => console.log(`| ${cells.join(' | ')} |`);
const rule = (columns: number) => line(Array.from({ length: columns }, () => '---'));
const short = (x: number) => (Math.abs(x) < 1e-6 ? '0' : String(Number(x.toPrecision(3))));

const HEADERS = [
  'variant',
  'numbers',
  'k',
  'chi2',
  'chi2 + 2k',
  'out of kind',
  'out of source',
  'unbounded',
  'beyond 2 sd',
  'kept rows lost',
];
line(HEADERS);
rule(HEADERS.length);
for (const s of scores) {
  const { id, numbers, counted } = s.variant;
  line([
    id,
    numbers.map(({ name }, i) => `${name} ${short(s.values[i]!)}`).join(', ') || '-',
    String(counted),
    s.chi2.toFixed(1),
    (s.chi2 + 2 * counted).toFixed(1),
    s.outOfKind.toFixed(1),
    s.outOfSource.toFixed(1),
    s.chi2Uncapped.toFixed(0),
    String(s.distances.filter((d) => d > 2).length),
    s.lost.join(', ') || 'none',
  ]);
}

console.log();
line(['row', 'measured', ...scores.map(({ variant }) => variant.id)]);
rule(2 + scores.length);
YARDSTICK_ROWS.forEach((row, i) => {
  const span = row.low === row.high ? short(row.low) : `${short(row.low)} to ${short(row.high)}`;
  line([
    row.id,
    `${span} ± ${short(row.sd)}`,
    ...scores.map((s) => `${short(s.answers[i]!)} (${s.distances[i]!.toFixed(1)})`),
  ]);
});
