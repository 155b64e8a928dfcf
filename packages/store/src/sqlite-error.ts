import type { NotSaved } from './store.ts';

const REASONS: readonly (readonly [prefix: string, reason: NotSaved['reason']])[] = [
  ['SQLITE_FULL', 'disk-full'],
  ['SQLITE_READONLY', 'read-only'],
  ['SQLITE_BUSY', 'busy'],
  ['SQLITE_LOCKED', 'busy'],
  ['SQLITE_CORRUPT', 'damaged'],
  ['SQLITE_NOTADB', 'damaged'],
  ['SQLITE_IOERR', 'disk-error'],
  ['SQLITE_CANTOPEN', 'disk-error'],
];

const WORDS: Readonly<Record<NotSaved['reason'], string>> = {
  'disk-full': 'the disk is full. Make room',
  'read-only': 'the log file may not be written. Give the server the right to',
  busy: 'another program holds the log. Close it',
  damaged: 'the log file is damaged. Restore the last backup',
  'disk-error': 'the disk reports an error. Look at the disk',
};

/** What kind of trouble the database met; undefined when it is a bug and not the world. */
export function reasonOf(thrown: unknown): NotSaved['reason'] | undefined {
  if (!(thrown instanceof Error) || !('code' in thrown)) return undefined;
  const code = String(thrown.code);
  return REASONS.find(([prefix]) => code.startsWith(prefix))?.[1];
}

export function notSaved(reason: NotSaved['reason']): NotSaved {
  const message = `Not saved: ${WORDS[reason]}, and send the events again; they are kept where they were made.`;
  return { ok: false, code: 'not-saved', reason, message };
}
