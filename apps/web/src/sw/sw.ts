/// <reference lib="webworker" />
/**
 * Keeps the built shell on the tablet, so that a reload works with the server down. Only files of
 * this build are kept; the API is never answered from here, the log has its own store.
 * Why no library: docs/decisions/0010-service-worker.md.
 */
export {};

declare const self: ServiceWorkerGlobalScope;

// The build puts the list of files and a sum of their contents in these places (vite.config.ts).
const FILES: string[] = JSON.parse('__SHELL_FILES__');
const SHELL = 'shell-__SHELL_SUM__';

/** Pages the server itself must answer: how a device comes in. */
const NOT_OURS = /^\/(api\/|trust|pair$)/;

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const shell = await caches.open(SHELL);
      await shell.addAll(FILES.map((file) => new Request(file, { cache: 'reload' })));
      // A newer version waits until the brewer takes it: never in the middle of an entry. The very
      // first has nobody to wait for.
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      // The version before stays one round longer: another tab may still be running it.
      const older = (await caches.keys()).filter((name) => name !== SHELL);
      for (const name of older.slice(0, -1)) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('message', (event) => {
  if (event.data === 'take over') event.waitUntil(self.skipWaiting());
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (NOT_OURS.test(url.pathname)) return;
  const page = event.request.mode === 'navigate';
  event.respondWith(
    (async () => {
      const shell = await caches.open(SHELL);
      const kept =
        (await shell.match(page ? '/' : event.request, { ignoreVary: true })) ??
        // Built files carry a sum in their names, so a part of an older page is found by its own.
        (page ? undefined : await caches.match(event.request, { ignoreVary: true }));
      return kept ?? fetch(event.request);
    })(),
  );
});
