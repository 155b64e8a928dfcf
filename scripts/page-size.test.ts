import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { measureFirstView } from './page-size.mjs';

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true });
});

/** A built page with these files. */
function built(files: Record<string, string>): string {
  const dist = mkdtempSync(join(tmpdir(), 'page-size-'));
  made.push(dist);
  mkdirSync(join(dist, 'assets'));
  for (const [path, content] of Object.entries(files)) writeFileSync(join(dist, path), content);
  return dist;
}

const paths = (files: Record<string, string>) =>
  measureFirstView(built(files))
    .map((file) => file.path)
    .sort();

describe('weighing the first view', () => {
  it('follows scripts, their static imports, style sheets and their fonts', () => {
    const files = {
      'index.html':
        '<link rel="stylesheet" href="/assets/a.css"><script type="module" crossorigin src="/assets/a.js"></script>',
      'assets/a.js': 'import{b}from"./b.js";export*from"./c.js";b()',
      'assets/b.js': 'export const b=()=>1',
      'assets/c.js': 'export const c=1',
      'assets/a.css': '@font-face{src:url(/assets/latin.woff2) format("woff2")}p{color:red}',
      'assets/latin.woff2': 'x',
    };
    expect(paths(files)).toEqual(Object.keys(files).sort());
  });

  it('leaves out the engine worker, later scripts and fonts for other alphabets', () => {
    const first = {
      'index.html': '<script type="module" src="/assets/a.js"></script><link href="a.css">',
      'assets/a.js':
        'new Worker(new URL("/assets/worker.js",import.meta.url));export const later=()=>import("./later.js")',
      'a.css':
        '@font-face{src:url(assets/ext.woff2);unicode-range:U+0100-02BA,U+2113}@font-face{src:url(assets/latin.woff2);unicode-range:U+??}',
      'assets/latin.woff2': 'x',
    };
    const later = { 'assets/worker.js': '1', 'assets/later.js': '2', 'assets/ext.woff2': 'x' };
    expect(paths({ ...first, ...later })).toEqual(Object.keys(first).sort());
  });

  it('weighs text compressed and fonts as they are', () => {
    const html = `<p>${'mash '.repeat(1000)}</p><link rel="preload" href="/assets/f.woff2">`;
    const font = 'f'.repeat(5000);
    const files = measureFirstView(built({ 'index.html': html, 'assets/f.woff2': font }));
    expect(files).toEqual([
      { path: 'assets/f.woff2', bytes: 5000 },
      { path: 'index.html', bytes: gzipSync(html, { level: 9 }).length },
    ]);
  });

  it('refuses a page that leads to a missing file', () => {
    const dist = built({ 'index.html': '<script src="/assets/gone.js"></script>' });
    expect(() => measureFirstView(dist)).toThrow(/assets\/gone\.js/);
  });
});
