/** The page kept on this device, its newer versions, and what the browser promises. */
import { computed, signal } from '@preact/signals';
import type { Footing } from './footing.ts';

/** Whether a reload works with the server down. */
export const reloadable = signal<
  { readonly state: 'asking' | 'yes' } | { readonly state: 'no'; readonly why: string }
>({ state: 'asking' });

/** A newer version of the page is here and waits until the brewer takes it. */
export const newer = signal(false);

/** Whether the browser has promised to keep entries; undefined while or where it does not say. */
const persisted = signal<boolean | undefined>(undefined);

const standalone = matchMedia('(display-mode: standalone)');
const installed = signal(standalone.matches);
standalone.addEventListener('change', () => {
  installed.value = standalone.matches;
});

/** What this device can do at the address it came by. */
export const footing = computed((): Footing => {
  const reload = reloadable.value;
  return {
    secure: isSecureContext,
    https: location.protocol === 'https:',
    installed: installed.value,
    reload: reload.state,
    ...(reload.state === 'no' && { reloadWhy: reload.why }),
    persisted: persisted.value,
    wakeLock: 'wakeLock' in navigator,
    vibrates: 'vibrate' in navigator,
  };
});

let registered: ServiceWorkerRegistration | undefined;
let taking = false;

/** Asks the browser to keep the built page. It refuses on plain http at any name but localhost. */
export function keepShell(): void {
  void askToPersist();
  if (!import.meta.env.PROD) {
    reloadable.value = { state: 'no', why: 'this is not a built page' };
    return;
  }
  if (!('serviceWorker' in navigator) || !isSecureContext) {
    reloadable.value = {
      state: 'no',
      why: 'the address is not a trusted one, so this browser keeps no page',
    };
    return;
  }
  const worker = navigator.serviceWorker;
  worker.addEventListener('controllerchange', () => {
    // Only where it was asked for; another tab of this device goes on with what it has.
    if (taking) location.reload();
  });
  worker.register('/sw.js').then(
    (registration) => {
      registered = registration;
      watch(registration);
      return worker.ready.then(() => {
        reloadable.value = { state: 'yes' };
      });
    },
    (error: unknown) => {
      reloadable.value = {
        state: 'no',
        why: error instanceof Error ? error.message : String(error),
      };
    },
  );
}

const LOOK_EVERY_MS = 3_600_000;

/** Notices a newer version. It is put in place only by `takeNewer`. */
function watch(registration: ServiceWorkerRegistration): void {
  const look = () => {
    // The very first worker takes over by itself; there is no older page under anybody's hands.
    if (registration.waiting !== null && navigator.serviceWorker.controller !== null) {
      newer.value = true;
    }
  };
  look();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', look);
  });
  const ask = () => {
    // With the server down there is nothing newer to be had; it is asked again in an hour.
    registration.update().catch(() => undefined);
  };
  setInterval(ask, LOOK_EVERY_MS);
  addEventListener('online', ask);
}

/** Puts the newer version in place and opens the page anew. Half-typed entries are kept. */
export function takeNewer(): void {
  taking = true;
  if (registered?.waiting) registered.waiting.postMessage('take over');
  else location.reload();
}

/** Asks the browser to keep entries for good; some ask the brewer, some decide by themselves. */
async function askToPersist(): Promise<void> {
  if (!navigator.storage?.persist) return;
  persisted.value = (await navigator.storage.persisted()) || (await navigator.storage.persist());
}

/** What a browser hands out that offers to install the page. */
interface InstallOffer extends Event {
  prompt(): Promise<unknown>;
}

/** The browser's offer to install the page, while there is one. */
export const installOffer = signal<InstallOffer | undefined>(undefined);
addEventListener('beforeinstallprompt', (event) => {
  // Kept for the Devices page: a banner over the now-card helps nobody.
  event.preventDefault();
  installOffer.value = event as InstallOffer;
});
addEventListener('appinstalled', () => {
  installOffer.value = undefined;
  void askToPersist();
});
