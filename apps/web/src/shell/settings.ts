import { unitPair } from '@ladlework/quantity';
import { computed } from '@preact/signals';
import { kept, oneOf } from './kept.ts';

/** The unit pair, chosen once and shown with every number. */
export const pairName = kept<'us' | 'metric'>('units', 'metric', oneOf('us', 'metric'));

/** How extract is written where the pair leaves a choice: in US units. */
export const extractAs = kept<'plato' | 'sg'>('extract', 'plato', oneOf('plato', 'sg'));
export const pair = computed(() =>
  unitPair(pairName.value, pairName.value === 'us' ? { extract: extractAs.value } : {}),
);

/** The letter that signs what is tapped on this device. */
export const who = kept<string>('who', 'B', (raw) =>
  typeof raw === 'string' && raw !== '' ? raw : undefined,
);

/** The small plots of the mash in the score: as the room allows, or as was chosen last. */
const laneChoice = oneOf('auto', 'on', 'off');
export const mashInPlan = kept<'auto' | 'on' | 'off'>('mash-in-plan', 'auto', laneChoice);
export const mashInDay = kept<'auto' | 'on' | 'off'>('mash-in-day', 'auto', laneChoice);

/** How the day page is laid out: full, wall (digits for 3 m), pocket (one person's next action). */
export const dayMode = kept<'full' | 'wall' | 'pocket'>(
  'day-mode',
  'full',
  oneOf('full', 'wall', 'pocket'),
);
