/** Running one sum from what was typed. */
import { OutOfRange } from '@ladlework/matter';
import { fail, fromHouse, ok, type Result } from '@ladlework/quantity';
import { columns, EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { type Argument, limitsText, shortened } from './argument.ts';
import type { Numbers, ResultSpec, Sum } from './sum.ts';
import { SUMS } from './sums.ts';

export interface SumOptions {
  readonly json: boolean;
}

/** Every sum with its arguments and results. */
export function listSums(output: Output, options: SumOptions): ExitCode {
  if (options.json) {
    writeJson(
      output,
      SUMS.map((sum) => ({
        name: sum.name,
        what: sum.what,
        arguments: Object.entries(sum.arguments).map(([name, a]) => ({
          name,
          what: a.what,
          optional: a.optional,
          allowed: a.allowed,
          ...(a.fallback === undefined ? {} : { default: a.fallback }),
        })),
        results: Object.entries(sum.results).map(([name, { unit, what }]) => ({
          name,
          unit,
          what,
        })),
        equation: sum.equation,
        source: sum.source,
      })),
    );
    return EXIT.ok;
  }
  const rows = SUMS.map((sum) => [sum.name, sum.what, `ladlework sum ${sum.name} ${sum.example}`]);
  output.out(`${columns(rows)}\n`);
  return EXIT.ok;
}

/**
 * Works out one sum.
 *
 * @param output where to
 * @param name of the sum
 * @param typed `key=value`, any order
 */
export async function runSum(
  output: Output,
  name: string,
  typed: readonly string[],
  options: SumOptions,
): Promise<ExitCode> {
  const sum = SUMS.find((s) => s.name === name);
  if (sum === undefined) {
    const known = SUMS.map((s) => s.name).join(', ');
    return refuse(output, `sum "${shortened(name)}" is not known; known: ${known}.`);
  }
  const values = readArguments(sum, typed);
  if (!values.ok) return refuse(output, ...values.error.map((line) => `sum ${name}: ${line}`));
  let answer: Awaited<ReturnType<Sum['answer']>>;
  try {
    answer = await sum.answer(values.value);
  } catch (thrown) {
    if (!(thrown instanceof OutOfRange)) throw thrown;
    return refuse(output, `sum ${name}: ${thrown.message}`);
  }
  if (!answer.ok) return refuse(output, `sum ${name}: ${answer.message}`);
  if (options.json) {
    writeJson(output, {
      sum: name,
      ...answer.numbers,
      source: sum.source,
      range: ranges(sum),
      equation: sum.equation,
      ...(answer.note === undefined ? {} : { note: answer.note }),
    });
  } else {
    output.out(page(sum, answer.numbers, answer.note));
  }
  return EXIT.ok;
}

function readArguments(
  sum: Sum,
  typed: readonly string[],
): Result<Record<string, unknown>, string[]> {
  const values: Record<string, unknown> = {};
  const errors: string[] = [];
  const known = Object.keys(sum.arguments).join(', ');
  const given = new Set<string>();
  for (const text of typed) {
    const cut = text.indexOf('=');
    const key = cut < 0 ? text : text.slice(0, cut);
    const argument = Object.hasOwn(sum.arguments, key) ? sum.arguments[key] : undefined;
    if (cut < 0) {
      errors.push(
        `"${shortened(text)}" is not an argument; write key=value, as in ${sum.example}.`,
      );
    } else if (argument === undefined) {
      errors.push(
        `${shortened(key)} is not an argument here; known: ${known}. Check the spelling.`,
      );
    } else if (given.has(key)) {
      errors.push(`${key} is given twice; give it once.`);
    } else {
      given.add(key);
      take(values, errors, key, argument, text.slice(cut + 1));
    }
  }
  for (const [key, argument] of Object.entries(sum.arguments)) {
    if (given.has(key)) continue;
    if (argument.fallback !== undefined) take(values, errors, key, argument, argument.fallback);
    else if (!argument.optional)
      errors.push(
        `${key} is missing: ${argument.what}; allowed: ${argument.allowed}. Add ${key}=…`,
      );
  }
  return errors.length > 0 ? fail(errors) : ok(values);
}

function take(
  values: Record<string, unknown>,
  errors: string[],
  key: string,
  argument: Argument<unknown>,
  text: string,
): void {
  const read = argument.read(key, text);
  if (read.ok) values[key] = read.value;
  else errors.push(read.error);
}

function ranges(sum: Sum) {
  return Object.fromEntries(
    Object.entries(sum.arguments).flatMap(([name, a]) =>
      a.limits === undefined ? [] : [[name, a.limits]],
    ),
  );
}

/** The same in the other pair of units, where a brewer would want it. */
const OTHER: Readonly<Record<string, (x: number) => string>> = {
  '°C': (x) => `${fromHouse('temperature', '°F', x).toFixed(1)} °F`,
  L: (x) => `${fromHouse('volume', 'gal', x).toFixed(2)} gal`,
  kg: (x) => `${fromHouse('mass', 'lb', x).toFixed(2)} lb`,
  kPa: (x) => `${fromHouse('pressure', 'psi', x).toFixed(2)} psi`,
};

function resultRow(name: string, spec: ResultSpec, value: number | null): string[] {
  if (value === null) return [name, '-', spec.what];
  const unit = spec.unit === '' ? '' : ` ${spec.unit}`;
  const other = OTHER[spec.unit]?.(value);
  return [
    name,
    `${value.toFixed(spec.digits)}${unit}`,
    `${spec.what}${other === undefined ? '' : ` (${other})`}`,
  ];
}

function page(sum: Sum, values: Numbers, note: string | undefined): string {
  const rows = Object.entries(sum.results).map(([name, spec]) =>
    resultRow(name, spec, values[name] ?? null),
  );
  const range = Object.entries(sum.arguments)
    .filter(([, a]) => a.limits !== undefined)
    .map(([name, a]) => `${name} ${limitsText(a.limits as NonNullable<typeof a.limits>)}`)
    .join('; ');
  const foot = [
    ['equation', sum.equation],
    ['range', range],
    ['source', sum.source],
    ...(note === undefined ? [] : [['note', note]]),
  ];
  return `${columns(rows)}\n\n${columns(foot)}\n`;
}
