import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(fileURLToPath(import.meta.url), '../..');
const dist = join(root, 'apps/web/dist');
const stamp = join(root, '.build/page.sha256');
/** Everything the built page is made from: its own files, the rooms it bundles, the tools. */
const SOURCES = [
  'apps/web',
  'packages',
  'package-lock.json',
  'tsconfig.base.json',
  'tsconfig.dom.json',
];
const NOT_SOURCES = new Set(['node_modules', 'dist']);

/**
 * @param {string} path  relative to the root
 * @returns {string[]} files, in an order that does not depend on the machine
 */
function filesUnder(path) {
  return readdirSync(join(root, path), { withFileTypes: true })
    .filter((entry) => !NOT_SOURCES.has(entry.name))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const inside = `${path}/${entry.name}`;
      return entry.isDirectory() ? filesUnder(inside) : [inside];
    });
}

/** Contents, not times: switching branches back and forth must not rebuild an unchanged page. */
function sourceHash() {
  const hash = createHash('sha256');
  for (const source of SOURCES) {
    const files = /\.json$/.test(source) ? [source] : filesUnder(source);
    for (const file of files) {
      if (/\.test\.tsx?$/.test(file)) continue;
      hash.update(`${file}\0`).update(readFileSync(join(root, file)));
    }
  }
  return hash.digest('hex');
}

/**
 * Builds the page, whatever is there.
 *
 * @returns {Promise<{ok: boolean, output: string}>}
 */
export function buildPage() {
  const hash = sourceHash();
  return new Promise((resolve) => {
    const child = spawn(join(root, 'node_modules/.bin/vite'), ['build', 'apps/web'], {
      cwd: root,
      // Whoever asks, a test run among them, gets the page a brewer gets.
      env: { ...process.env, NO_COLOR: '1', NODE_ENV: 'production' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let output = '';
    child.stdout.on('data', (data) => (output += data));
    child.stderr.on('data', (data) => (output += data));
    child.on('error', (error) => resolve({ ok: false, output: `${output}${error.message}` }));
    child.on('close', (code) => {
      const ok = code === 0;
      if (ok) {
        mkdirSync(join(root, '.build'), { recursive: true });
        writeFileSync(stamp, hash);
      }
      resolve({ ok, output });
    });
  });
}

/**
 * Builds the page when it is missing or its sources have changed since it was built.
 *
 * @param {(line: string) => void} say  told when a build begins, because it takes seconds
 * @throws {Error} with the builder's output when the page cannot be built
 */
export async function ensurePage(say) {
  const built = existsSync(join(dist, 'index.html')) && existsSync(stamp);
  if (built && readFileSync(stamp, 'utf8') === sourceHash()) return;
  say('Building the page ...');
  const { ok, output } = await buildPage();
  if (!ok) throw new Error(`the page could not be built:\n${output}`);
}
