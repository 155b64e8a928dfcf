import { readFileSync } from 'node:fs';

/** Reads a published table for a test. Tables are never read by the product itself. */
const open = (name: string): string =>
  readFileSync(new URL(`./data/${name}`, import.meta.url), 'utf8');

/** One record of a table; asking for a column that is not there is a mistake in the test. */
export interface Row {
  text(column: string): string;
  /** The column as a number; an empty cell is a mistake here, ask `has` first. */
  num(column: string): number;
  has(column: string): boolean;
}

/** The records of a comma-separated table with a header line; quoted cells may hold commas. */
export function readTable(name: string): readonly Row[] {
  const [header, ...lines] = open(name).trim().split('\n').map(cells);
  if (header === undefined || lines.length === 0) throw new Error(`${name} holds no records`);
  return lines.map((line) => {
    const text = (column: string): string => {
      const i = header.indexOf(column);
      const cell = line[i];
      if (i < 0 || cell === undefined) throw new Error(`${name} has no column ${column}`);
      return cell;
    };
    const has = (column: string): boolean => text(column) !== '';
    const num = (column: string): number => {
      const x = Number(text(column));
      if (!has(column) || !Number.isFinite(x))
        throw new Error(`${name}: ${column} is not a number`);
      return x;
    };
    return { text, num, has };
  });
}

function cells(line: string): string[] {
  const out: string[] = [];
  let cell = '';
  let quoted = false;
  for (const ch of line.replace(/\r$/, '')) {
    if (ch === '"') quoted = !quoted;
    else if (ch === ',' && !quoted) {
      out.push(cell);
      cell = '';
    } else cell += ch;
  }
  out.push(cell);
  return out;
}

/** A JSON document; the test says what shape it expects. */
export function readDocument<T>(name: string): T {
  return JSON.parse(open(name)) as T;
}
