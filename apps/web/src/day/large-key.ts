/** Which keys are for the large button of the day page. Pure. */

/** Pressed by any keyboard while nothing else has the focus. */
const KEYS: ReadonlySet<string> = new Set(['Enter', ' ']);
/** What foot switches for turning pages, presenters and a few tablets' volume keys send. */
const SWITCHES: ReadonlySet<string> = new Set([
  'PageDown',
  'ArrowRight',
  'ArrowDown',
  'AudioVolumeUp',
  'AudioVolumeDown',
  'VolumeUp',
  'VolumeDown',
]);
/**
 * Whether a key press is for the large button.
 *
 * @param key as the browser names it
 * @param focus what has the focus: 'field' a box to type in, 'control' a button or link, 'page' none
 * @param switched whether a foot switch is said to be there
 */
export function pressesLarge(
  key: string,
  focus: 'field' | 'control' | 'page',
  switched: boolean,
): boolean {
  if (focus === 'field') return false;
  // A control with the focus is pressed by the browser itself.
  if (KEYS.has(key)) return focus === 'page';
  return switched && SWITCHES.has(key);
}
