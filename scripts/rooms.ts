import { readFileSync } from 'node:fs';
import { root } from './source-scan.ts';

/** One row of the table of rooms in ARCHITECTURE.md. */
export interface Room {
  /** Folder, as `packages/matter`. */
  readonly folder: string;
  /** Last part of the folder, by which other rows name it. */
  readonly name: string;
  /** Names of the rooms it may import. */
  readonly mayImport: readonly string[];
}

/** Rooms that compute from what they are handed and nothing else. */
export const PURE_ROOMS = [
  'quantity',
  'numerics',
  'matter',
  'brewhouse',
  'planner',
  'log',
  'contract',
  'paper',
];

/**
 * The rooms and their arrows, as ARCHITECTURE.md has them.
 *
 * @param markdown  text of ARCHITECTURE.md
 * @returns rows of the table in its order
 * @throws {Error} when the text has no such table, or a row does not read as one
 */
export function readRooms(markdown: string): Room[] {
  const lines = markdown.split('\n');
  const header = lines.findIndex((line) => /^\| room \|.*\| may import \|$/.test(line));
  if (header < 0) throw new Error('ARCHITECTURE.md has no table "| room | ... | may import |"');
  const rest = lines.slice(header + 2);
  const end = rest.findIndex((line) => !line.startsWith('|'));
  return rest.slice(0, end < 0 ? undefined : end).map(readRow);
}

function readRow(line: string): Room {
  const cells = line.split('|').map((cell) => cell.trim());
  const folder = /^`((?:packages|apps)\/([a-z]+))`$/.exec(cells[1] ?? '');
  const arrows = cells[3] ?? '';
  if (!folder || !/^(nothing of ours|[a-z]+(, [a-z]+)*)$/.test(arrows)) {
    throw new Error(`ARCHITECTURE.md: this row of the table of rooms cannot be read: ${line}`);
  }
  return {
    folder: folder[1] ?? '',
    name: folder[2] ?? '',
    mayImport: arrows === 'nothing of ours' ? [] : arrows.split(', '),
  };
}

/** The rooms of this repository. */
export const rooms = readRooms(readFileSync(`${root}ARCHITECTURE.md`, 'utf8'));
