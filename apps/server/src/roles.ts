/** What a paired device may do. The page hides what is not allowed; this is where it is refused. */
import type { Role } from '@ladlework/contract';
import type { EventType } from '@ladlework/log';

/** Who a request comes from. */
export interface Visitor {
  readonly role: Role;
  /** Id of the paired device; undefined for the machine itself. */
  readonly device?: string;
}

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
  'caution-seen': true,
  'gate-confirmed': true,
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

/** Writing that is not the brewer's alone. Whatever is not named here is. */
const HELPER_POSTS: ReadonlySet<string> = new Set(['/api/events', '/api/check']);
/** Reading that is: who may come in, the codes, and what a probe proves itself with. */
const BREWER_READS = /^\/api\/(devices(\/|$)|probes\/[^/]+\/access$)/;

/**
 * Whether a role may make a request at all.
 *
 * @param path without query
 */
export function mayAsk(role: Role, method: string, path: string): boolean {
  if (role === 'brewer') return true;
  if (method === 'GET' || method === 'HEAD') return !BREWER_READS.test(path);
  return role === 'helper' && method === 'POST' && HELPER_POSTS.has(path);
}
