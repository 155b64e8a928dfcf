/** What a paired device may write: the server refuses by this, the page does not offer what it forbids. */
import type { EventType } from '@ladlework/log';

/** brewer: everything. helper: what happens at the vessels. viewer: reads. */
export const ROLES = ['brewer', 'helper', 'viewer'] as const;
export type Role = (typeof ROLES)[number];

/** A new type of event must be given to somebody before it compiles. */
const HELPER_WRITES: Readonly<Record<EventType, boolean | 'own'>> = {
  'kit-saved': false,
  'kit-retired': false,
  'beer-saved': false,
  'beer-retired': false,
  'probe-saved': false,
  'probe-retired': false,
  'brew-planned': false,
  'plan-changed': false,
  'brew-started': false,
  'brew-ended': false,
  // Which way out is taken is the brewer's to say; that it was carried out, anybody's.
  'miss-mended': false,
  'kettle-chosen': false,
  'move-begun': true,
  'move-done': true,
  reading: true,
  'wort-read': true,
  'ladles-returned': true,
  'miss-told': true,
  'miss-over': true,
  'caution-seen': true,
  'gate-confirmed': true,
  'brewer-called': true,
  note: true,
  // Undo and mending a slip: what the same tablet wrote.
  corrected: 'own',
  withdrawn: 'own',
};

/**
 * Whether a role may write an event of a type.
 *
 * @returns `own`: only about an event of the same tablet that the role may write itself
 */
export function mayWrite(role: Role, type: EventType): boolean | 'own' {
  if (role === 'brewer') return true;
  return role === 'helper' ? HELPER_WRITES[type] : false;
}
