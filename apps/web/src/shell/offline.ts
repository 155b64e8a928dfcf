import { signal } from '@preact/signals';

/** Whether a reload works with the server down. */
export const reloadable = signal<
  { readonly state: 'asking' | 'yes' } | { readonly state: 'no'; readonly why: string }
>({ state: 'asking' });

/** Asks the browser to keep the built page. It refuses on plain http at any name but localhost. */
export function keepShell(): void {
  if (!import.meta.env.PROD) {
    reloadable.value = { state: 'no', why: 'this is not a built page' };
    return;
  }
  if (!('serviceWorker' in navigator) || !isSecureContext) {
    reloadable.value = {
      state: 'no',
      why: 'the address is not a trusted one, so this browser keeps no page; do not reload while the server is down',
    };
    return;
  }
  navigator.serviceWorker.register('/sw.js').then(
    () => navigator.serviceWorker.ready.then(() => (reloadable.value = { state: 'yes' })),
    (error: unknown) => {
      reloadable.value = {
        state: 'no',
        why: error instanceof Error ? error.message : String(error),
      };
    },
  );
}
