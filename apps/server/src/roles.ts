/** What a paired device may do. The page hides what is not allowed; this is where it is refused. */
import type { Role } from '@ladlework/contract';

/** Who a request comes from. */
export interface Visitor {
  readonly role: Role;
  /** Id of the paired device; undefined for the machine itself. */
  readonly device?: string;
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
