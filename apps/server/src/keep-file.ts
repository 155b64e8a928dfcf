/** Small files beside the log that only their owner may read. */
import { closeSync, fsyncSync, openSync, renameSync, writeSync } from 'node:fs';

/**
 * Writes a file whole or not at all, readable by its owner only, and through to disk.
 *
 * @param path of the file; its folder must be there
 */
export function keepFile(path: string, content: string): void {
  const half = `${path}.part`;
  const file = openSync(half, 'w', 0o600);
  try {
    writeSync(file, content);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  renameSync(half, path);
}
