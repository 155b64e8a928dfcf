import { unitPair } from '@ladlework/quantity';
import { computed, effect, signal } from '@preact/signals';
import { kept, oneOf } from './kept.ts';

/** The unit pair, chosen once and shown with every number. */
export const pairName = kept<'us' | 'metric'>('units', 'metric', oneOf('us', 'metric'));
export const pair = computed(() => unitPair(pairName.value));

/** The letter that signs what is tapped on this device. */
export const who = kept<string>('who', 'B', (raw) =>
  typeof raw === 'string' && raw !== '' ? raw : undefined,
);

/** How the day page is laid out: full, wall (digits for 3 m), pocket (one person's next action). */
export const dayMode = kept<'full' | 'wall' | 'pocket'>(
  'day-mode',
  'full',
  oneOf('full', 'wall', 'pocket'),
);

export type Theme = 'light' | 'dark';

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
