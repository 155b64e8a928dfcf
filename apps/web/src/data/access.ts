/** What this device may do, as the server last said; kept, so that it is known offline as well. */
import { mayWrite, ROLES, type Role } from '@ladlework/contract';
import type { LogEvent } from '@ladlework/log';
import { signal } from '@preact/signals';
import { kept, oneOf } from '../shell/kept.ts';

/** A brewer's until a server says otherwise: a page alone with itself forbids nothing. */
export const role = kept<Role>('role', 'brewer', oneOf(...ROLES));

/** What this device is called on the list of devices. */
export const deviceName = signal<string | undefined>(undefined);

/** False when the server knows no device by what this one shows. */
export const paired = signal(true);

/** Whether a device of this role may press what writes an event; what it may not is not shown. */
export const mayPress = (type: LogEvent['type']): boolean => mayWrite(role.value, type) !== false;

const DONE_BY_BREWER: Readonly<Partial<Record<LogEvent['type'], string>>> = {
  'kit-saved': 'save a kit',
  'kit-retired': 'retire a kit',
  'beer-saved': 'save a beer',
  'beer-retired': 'retire a beer',
  'brew-planned': 'plan a brew',
  'plan-changed': 'change a plan',
  'brew-started': 'start a day',
  'brew-ended': 'end a brew',
  'miss-mended': 'choose how a miss is mended',
  'kettle-chosen': 'choose what the kettle does',
};

/**
 * Why this device may not write an event; nothing when it may. The server would refuse it, maybe
 * hours later.
 */
export function refusalOf(type: LogEvent['type']): string | undefined {
  if (mayPress(type)) return undefined;
  const what = DONE_BY_BREWER[type] ?? 'write that';
  return `This device is paired as a ${role.value}. Only a brewer’s device may ${what}.`;
}
