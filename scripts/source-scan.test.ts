import { describe, expect, it } from 'vitest';
import { scanSource } from './source-scan.ts';

const imports = (code: string) => scanSource('a.ts', code).imports;
const impure = (code: string) => scanSource('a.ts', code).impure;

describe('scanning a source file', () => {
  it.each([
    ["import { a } from 'x'", 'x'],
    ["import type { A } from 'x'", 'x'],
    ["import 'x'", 'x'],
    ["export * from 'x'", 'x'],
    ["export { a } from 'x'", 'x'],
    ["export type { A } from 'x'", 'x'],
    ["const a = await import('x')", 'x'],
    ["let a: import('x').A", 'x'],
  ])('finds what %s imports', (code, specifier) => {
    expect(imports(code)).toEqual([specifier]);
  });

  it('is not fooled by comments and texts', () => {
    expect(imports("// import 'x'\nconst a = \"import 'y'\"")).toEqual([]);
  });

  it.each([
    ['Date.now()', 'Date'],
    ['new Date(0)', 'Date'],
    ['Math.random()', 'Math.random'],
    ["Math['random']()", 'Math.random'],
    ['const f = Math.random', 'Math.random'],
    ['performance.now()', 'performance'],
    ['process.env.HOME', 'process'],
    ['globalThis.crypto', 'globalThis'],
    ['crypto.randomUUID()', 'crypto'],
    ['({ now: Date.now })', 'Date'],
    ['({ process })', 'process'],
    ['({ [process.pid]: 1 })', 'process'],
  ])('finds the impure value in %s', (code, name) => {
    expect(impure(code)).toContain(name);
  });

  it.each([
    'const a = { process: 1, Date: 2 }; a.process; a.Date',
    'interface A { document: B; process(): void }',
    'let plan: { document: string } = { document: "x" }',
    'let when: Date',
    'Date.UTC(2026, 10, 25)',
    'const document = a; document.kit',
    'Math.max(1, 2)',
  ])('finds nothing impure in %s', (code) => {
    expect(impure(code)).toEqual([]);
  });

  it('collects texts', () => {
    expect(scanSource('a.ts', "const a = 'x'; const b = `y`").texts).toEqual(['x', 'y']);
  });
});
