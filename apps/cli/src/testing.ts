/** Running a command line inside a test. */
import { main } from './main.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** One command line, run in this process. */
export async function ladlework(...argv: readonly string[]): Promise<Ran> {
  let out = '';
  let err = '';
  const code = await main(argv, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

/** The JSON a command gave; its refusal when it gave none. */
export async function ladleworkJson<T = Record<string, unknown>>(
  ...argv: readonly string[]
): Promise<T> {
  const ran = await ladlework(...argv, '--json');
  if (ran.out === '') throw new Error(`exit ${ran.code}: ${ran.err}`);
  return JSON.parse(ran.out) as T;
}

/** One sum, its results by name. */
export const sum = (name: string, args: Readonly<Record<string, string | number>> | string) =>
  ladleworkJson<Record<string, number>>(
    'sum',
    name,
    ...(typeof args === 'string'
      ? args.split(' ')
      : Object.entries(args).map(([key, value]) => `${key}=${value}`)),
  );
