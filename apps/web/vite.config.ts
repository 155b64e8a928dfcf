import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Files that are served as they stand in public/. */
function publicFiles(): { name: string; content: Buffer }[] {
  return readdirSync(here('./public'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return { name: relative(here('./public'), path), content: readFileSync(path) };
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/**
 * Writes the list of built files, and a sum of what is in them, into the service worker: the whole
 * shell, the typeface and the engine are kept on the tablet at the first visit, and any change of
 * any of them makes a new version.
 */
function shellList(): Plugin {
  return {
    name: 'ladlework-shell-list',
    apply: 'build',
    generateBundle(_options, bundle) {
      const worker = bundle['sw.js'];
      if (worker?.type !== 'chunk') throw new Error('the service worker was not built as sw.js');
      const built = Object.entries(bundle).filter(
        ([name]) => name !== 'sw.js' && !name.endsWith('.map'),
      );
      const asIs = publicFiles();
      const sum = createHash('sha256');
      for (const [name, part] of built) {
        sum.update(name).update(part.type === 'chunk' ? part.code : part.source);
      }
      for (const { name, content } of asIs) sum.update(name).update(content);
      const names = [...asIs.map((f) => f.name), ...built.map(([name]) => name)];
      const kept = ['/', ...names.filter((n) => n !== 'index.html').map((n) => `/${n}`)];
      const filled = worker.code
        .replace(/(['"`])__SHELL_FILES__\1/, JSON.stringify(JSON.stringify(kept)))
        .replace('__SHELL_SUM__', sum.digest('hex').slice(0, 16));
      if (/__SHELL_/.test(filled) || filled === worker.code) {
        throw new Error('the service worker names no shell list');
      }
      worker.code = filled;
    },
  };
}

export default defineConfig({
  root: here('.'),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [shellList()],
  worker: { format: 'es' },
  build: {
    outDir: here('./dist'),
    emptyOutDir: true,
    target: 'es2022',
    // A data: font or picture would need a wider content policy than the server sends.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: { index: here('./index.html'), sw: here('./src/sw/sw.ts') },
      output: {
        entryFileNames: (chunk) => (chunk.name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
});
