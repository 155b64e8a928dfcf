/** How the day page is laid out on this device. */
import { computed } from '@preact/signals';
import { role } from '../data/access.ts';
import { dayMode } from '../shell/settings.ts';

/** A helper's tablet has the helper's view whatever was chosen; the others as chosen. */
export const layout = computed<'full' | 'wall' | 'pocket' | 'helper'>(() =>
  role.value === 'helper' ? 'helper' : dayMode.value,
);

/** Whether only one person's part is on the page. */
export const onePart = computed(() => layout.value === 'pocket' || layout.value === 'helper');
