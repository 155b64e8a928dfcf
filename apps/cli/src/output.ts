/** Where a command writes, and how it ends. */

/** Ends of every command; docs/cli.md says the same. */
export const EXIT = {
  ok: 0,
  /** Something went wrong that the user could not have written differently. */
  failed: 1,
  /** What was asked is wrong: a file, a field, an option. */
  badInput: 2,
  /** The plan was made, and the kit cannot do it. */
  notFeasible: 3,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Standard output and error, as text; a test hands in its own. */
export interface Output {
  out(text: string): void;
  err(text: string): void;
}

/** One JSON document on standard output. */
export function writeJson(output: Output, value: unknown): void {
  output.out(`${JSON.stringify(value, null, 2)}\n`);
}

/** Lines on standard error, and the exit code for input that is wrong. */
export function refuse(output: Output, ...lines: readonly string[]): ExitCode {
  for (const line of lines) output.err(`${line}\n`);
  return EXIT.badInput;
}

/** A table with its columns lined up, two blanks between them; the last column is not padded. */
export function columns(rows: readonly (readonly string[])[], indent = ''): string {
  const widths: number[] = [];
  for (const row of rows)
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, cell.length);
    });
  return rows
    .map((row) => {
      const cells = row.map((cell, i) => (i < row.length - 1 ? cell.padEnd(widths[i] ?? 0) : cell));
      return `${indent}${cells.join('  ')}`.trimEnd();
    })
    .join('\n');
}
