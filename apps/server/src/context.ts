/** What the parts of the server share. */
import type { HttpBindings } from '@hono/node-server';
import type { EventStore } from '@ladlework/store';
import type { LiveStream } from './live-stream.ts';
import type { StartedProbes } from './probes/start.ts';
import type { Visitor } from './roles.ts';

/** What a request carries beside itself. */
export interface Env {
  readonly Bindings: HttpBindings;
  /** `visitor`: set by the guard for everybody it lets in; not on the pages for strangers. */
  readonly Variables: { visitor: Visitor };
}

/** What the server stands on. Clock and log are handed in, so that tests can turn them. */
export interface Deps extends Pick<StartedProbes, 'probes' | 'tokens' | 'mqtt'> {
  readonly store: EventStore;
  readonly live: LiveStream;
  readonly version: string;
  readonly now: () => number;
  /** One line for the operator; never shown to a client. */
  readonly log: (line: string) => void;
}
