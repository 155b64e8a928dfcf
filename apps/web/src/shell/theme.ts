import { effect, signal } from '@preact/signals';

type Theme = 'light' | 'dark';

/** Black on pale or pale on black; the first paint was set by theme.js. */
export const theme = signal<Theme>(
  document.documentElement.dataset['theme'] === 'dark' ? 'dark' : 'light',
);

let followed = false;
effect(() => {
  document.documentElement.dataset['theme'] = theme.value;
  // theme.js reads the bare word; only a tap keeps it, so the device's own choice stays in force.
  if (followed) {
    try {
      localStorage.setItem('ladlework.theme', theme.value);
    } catch {
      // Not kept on this device; the page is right until the next load.
    }
  }
  followed = true;
});

/** The other of light and dark. */
export function turnTheme(): void {
  theme.value = theme.value === 'light' ? 'dark' : 'light';
}
