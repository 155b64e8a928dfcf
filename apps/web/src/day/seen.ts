import { kept } from '../shell/kept.ts';

/** Keys of the alarms that were acknowledged on this device. */
export const seenAlarms = kept<readonly string[]>('alarms-seen', [], (raw) =>
  Array.isArray(raw) && raw.every((key) => typeof key === 'string') ? raw : undefined,
);

/** More than a day's worth of acknowledged alarms is never looked at again. */
const SEEN_KEPT = 200;

export function seeAlarm(key: string): void {
  seenAlarms.value = [...seenAlarms.value, key].slice(-SEEN_KEPT);
}
