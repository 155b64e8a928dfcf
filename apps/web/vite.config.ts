import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/**
 * Writes the list of built files into the service worker, so that the whole shell, the typeface
 * and the engine are kept on the tablet at the first visit.
 */
function shellList(): Plugin {
  return {
    name: 'ladlework-shell-list',
    apply: 'build',
    generateBundle(_options, bundle) {
      const worker = bundle['sw.js'];
      if (worker?.type !== 'chunk') throw new Error('the service worker was not built as sw.js');
      const files = Object.keys(bundle).filter(
        (name) => name !== 'sw.js' && !name.endsWith('.map'),
      );
      const kept = ['/', '/theme.js', '/mark.svg', '/manifest.webmanifest'].concat(
        files.filter((name) => name !== 'index.html').map((name) => `/${name}`),
      );
      const before = worker.code;
      worker.code = before.replace(
        /(['"`])__SHELL_FILES__\1/,
        JSON.stringify(JSON.stringify(kept)),
      );
      if (worker.code === before) throw new Error('the service worker names no shell list');
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
