import { fail, type Result } from '@ladlework/quantity';
import type { EngineError } from './protocol.ts';

const superseded: EngineError = {
  code: 'superseded',
  message: 'A newer question was asked before this one was answered.',
};

/**
 * Lets one question run and one wait; a newer one takes the waiting place. A page that asks on
 * every keystroke thus gets the newest answer after at most two runs.
 *
 * @param run answers one question; must not reject
 */
export function latestOnly<A, T>(
  run: (ask: A) => Promise<Result<T, EngineError>>,
): (ask: A) => Promise<Result<T, EngineError>> {
  let running = false;
  let next: { ask: A; settle: (answer: Result<T, EngineError>) => void } | undefined;

  const start = async (ask: A, settle: (answer: Result<T, EngineError>) => void) => {
    running = true;
    settle(await run(ask));
    running = false;
    const following = next;
    next = undefined;
    if (following !== undefined) void start(following.ask, following.settle);
  };

  return (ask) =>
    new Promise((settle) => {
      if (!running) {
        void start(ask, settle);
        return;
      }
      next?.settle(fail(superseded));
      next = { ask, settle };
    });
}
