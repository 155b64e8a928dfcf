/// <reference lib="webworker" />
/**
 * Keeps the built shell on the tablet, so that a reload works with the server down. Only files of
 * this build are kept; the API is never answered from here, the log has its own store.
 * Why no library: docs/decisions/0010-service-worker.md.
 */
export {};

declare const self: ServiceWorkerGlobalScope;

// The build puts the list of files in this place (vite.config.ts).
const FILES: string[] = JSON.parse('__SHELL_FILES__');
const SHELL = `shell-${hash(FILES.join('\n'))}`;

function hash(text: string): string {
  let h = 2166136261;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 16777619) >>> 0;
  return h.toString(36);
}

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const shell = await caches.open(SHELL);
      await shell.addAll(FILES.map((file) => new Request(file, { cache: 'reload' })));
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== SHELL) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith('/api/')) return;
  const page = event.request.mode === 'navigate';
  event.respondWith(
    (async () => {
      const shell = await caches.open(SHELL);
      const kept = await shell.match(page ? '/' : event.request, { ignoreVary: true });
      // A page open in the brewhouse must not change under the brewer's hands; the new build is
      // taken over when this worker is replaced.
      return kept ?? fetch(event.request);
    })(),
  );
});
