import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PURE_ROOMS, type Room, readRooms, rooms } from './rooms.ts';
import { filesUnder, root, type SourceScan, scanSource } from './source-scan.ts';

const json = (path: string) => JSON.parse(readFileSync(`${root}${path}`, 'utf8'));
const sorted = (names: Iterable<string>) => [...new Set(names)].sort();

/** Source files of a folder with what they reach for. */
function sources(folder: string): [path: string, scan: SourceScan][] {
  return filesUnder(folder)
    .filter((path) => /\.(ts|tsx|mjs)$/.test(path))
    .map((path) => [path, scanSource(path, readFileSync(`${root}${path}`, 'utf8'))]);
}

const isTest = (path: string) => /\.test\.tsx?$/.test(path);

/** Name of the room a package name stands for, `matter` for `@ladlework/matter/units`. */
const roomOf = (specifier: string) => /^@ladlework\/([a-z]+)/.exec(specifier)?.[1];

describe('the map of rooms', () => {
  it('names every workspace, and no other', () => {
    const there = ['packages', 'apps'].flatMap((parent) =>
      readdirSync(`${root}${parent}`).map((name) => `${parent}/${name}`),
    );
    expect(sorted(rooms.map((room) => room.folder))).toEqual(sorted(there));
  });

  it('has arrows that point to rows above only', () => {
    const above = new Set<string>();
    for (const { name, mayImport } of rooms) {
      expect(
        mayImport.filter((other) => !above.has(other)),
        name,
      ).toEqual([]);
      above.add(name);
    }
  });

  it('refuses a table it cannot read', () => {
    expect(() => readRooms('# no table')).toThrow(/no table/);
    const row = '| room | what | may import |\n|---|---|---|\n| `packages/x` | y | and below |';
    expect(() => readRooms(row)).toThrow(/cannot be read/);
  });
});

describe.each(rooms)('$folder', (room: Room) => {
  const files = sources(`${room.folder}/src`);

  it('imports other rooms by name, and only those its arrows allow', () => {
    const faults = files.flatMap(([path, { imports }]) =>
      imports
        .filter((specifier) => {
          if (specifier.startsWith('.')) return leavesBy(posix.join(path, '..', specifier), path);
          const other = roomOf(specifier);
          return other !== undefined && !room.mayImport.includes(other);
        })
        .map((specifier) => `${path} imports ${specifier}`),
    );
    expect(faults).toEqual([]);
  });

  /** A relative path stays in its room; a test may also read what stands outside all rooms. */
  const leavesBy = (target: string, from: string) =>
    !target.startsWith(`${room.folder}/`) && !(isTest(from) && !/^(packages|apps)\//.test(target));

  it('has exactly its arrows as tsconfig references', () => {
    const { references = [] } = json(`${room.folder}/tsconfig.json`);
    const names = references.map((reference: { path: string }) => posix.basename(reference.path));
    expect(sorted(names)).toEqual(sorted(room.mayImport));
  });

  it('has exactly its arrows as dependencies of ours', () => {
    const { dependencies = {}, devDependencies = {} } = json(`${room.folder}/package.json`);
    const ours = Object.keys({ ...dependencies, ...devDependencies }).flatMap(
      (name) => roomOf(name) ?? [],
    );
    expect(sorted(ours)).toEqual(sorted(room.mayImport));
  });

  it('reads reference/ in tests only', () => {
    const faults = files
      .filter(([path, { imports, texts }]) => {
        return (
          !isTest(path) && [...imports, ...texts].some((text) => text.includes('reference/data'))
        );
      })
      .map(([path]) => path);
    expect(faults).toEqual([]);
  });
});

describe.each(PURE_ROOMS.map((name) => ({ name })))('$name is pure:', ({ name }) => {
  const folder = `packages/${name}`;
  const files = sources(`${folder}/src`).filter(([path]) => !isTest(path));

  it('is compiled without DOM and Node types', () => {
    const own = json(`${folder}/tsconfig.json`);
    expect(own.extends).toBe('../../tsconfig.pure.json');
    expect(own.compilerOptions).not.toHaveProperty('lib');
    expect(own.compilerOptions).not.toHaveProperty('types');
    const inherited = { ...json('tsconfig.base.json').compilerOptions };
    Object.assign(inherited, json('tsconfig.pure.json').compilerOptions);
    expect(inherited.lib).toEqual(['ES2023']);
    expect(inherited.types).toEqual([]);
  });

  it('imports nothing of Node, in its tests excepted', () => {
    const faults = files.flatMap(([path, { imports }]) =>
      imports
        .filter((specifier) => specifier.startsWith('node:'))
        .map((what) => `${path}: ${what}`),
    );
    expect(faults).toEqual([]);
  });

  it('asks no clock, no chance and no machine', () => {
    const faults = files.flatMap(([path, { impure }]) => impure.map((what) => `${path}: ${what}`));
    expect(faults).toEqual([]);
  });
});

describe('every room', () => {
  it('is built by the root project, tests included', () => {
    const paths = (file: string) =>
      json(file).references.map((reference: { path: string }) => reference.path);
    const folders = sorted(rooms.map((room) => room.folder));
    expect(sorted(paths('tsconfig.tests.json'))).toEqual(folders);
    expect(sorted(paths('tsconfig.json'))).toEqual(sorted([...folders, 'tsconfig.tests.json']));
  });

  it('has source to check', () => {
    for (const room of rooms)
      expect(existsSync(`${root}${room.folder}/src`), room.folder).toBe(true);
  });
});
