/** The log of a data folder, for commands that must not make a new one. */
import { existsSync } from 'node:fs';
import { fail, ok, type Result } from '@ladlework/quantity';
import { type EventStore, openStore } from '@ladlework/store';

/**
 * Opens a log that is there.
 *
 * @param path of the file
 * @returns the store, or a sentence
 */
export function openLog(path: string): Result<EventStore, string> {
  if (!existsSync(path))
    return fail(
      `${path} is not there. Name the folder of the log with --data, or start the server.`,
    );
  const opened = openStore(path);
  return opened.ok ? ok(opened.store) : fail(opened.error.message);
}
