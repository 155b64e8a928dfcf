/** `verify`, `backup` and `restore`: whether the log is whole, and whole copies of it. */
import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { openLog } from './open-log.ts';

/**
 * Reads the whole log and compares it with what was written.
 *
 * @returns 0 when it is whole, 1 when it is not, 2 when there is none
 */
export async function verifyCommand(
  output: Output,
  path: string,
  json: boolean,
): Promise<ExitCode> {
  const log = openLog(path);
  if (!log.ok) return refuse(output, log.error);
  try {
    const found = await log.value.check();
    if (json) writeJson(output, found);
    else if (found.ok) output.out(`${path} is whole: ${found.events} events.\n`);
    else output.out(`${path} is not whole:\n${found.problems.map((p) => `- ${p}\n`).join('')}`);
    return found.ok ? EXIT.ok : EXIT.failed;
  } finally {
    await log.value.close();
  }
}

/**
 * Copies the log, whole, beside a server that may be writing it.
 *
 * @param folder for the copy, made when missing
 * @param nowMs names the copy
 */
export async function backupCommand(
  output: Output,
  path: string,
  folder: string,
  nowMs: number,
  json: boolean,
): Promise<ExitCode> {
  const log = openLog(path);
  if (!log.ok) return refuse(output, log.error);
  try {
    const stamp = new Date(nowMs).toISOString().replace(/[-:]|\.\d+/g, '');
    const copy = join(resolve(folder), `ladlework-${stamp}.sqlite`);
    await mkdir(dirname(copy), { recursive: true });
    return told(output, await log.value.backup(copy), copy, json);
  } finally {
    await log.value.close();
  }
}

/**
 * Puts a copy in the place of the log. A log that is there is never overwritten.
 *
 * @param copy a file that `backup` made
 */
export async function restoreCommand(
  output: Output,
  path: string,
  copy: string,
  json: boolean,
): Promise<ExitCode> {
  if (existsSync(path))
    return refuse(output, `${path} is there and is not overwritten. Move it away first.`);
  if (!existsSync(copy)) return refuse(output, `${copy} is not there. Check the name.`);
  const backup = openLog(copy);
  if (!backup.ok) return refuse(output, backup.error);
  try {
    const whole = await backup.value.check();
    if (!whole.ok)
      return refuse(output, `${copy} is not whole: ${whole.problems[0]}. Take an earlier copy.`);
    await mkdir(dirname(path), { recursive: true });
    return told(output, await backup.value.backup(path), path, json);
  } finally {
    await backup.value.close();
  }
}

function told(
  output: Output,
  outcome:
    | { readonly ok: true; readonly events: number }
    | { readonly ok: false; readonly message: string },
  path: string,
  json: boolean,
): ExitCode {
  if (outcome.ok) {
    if (json) writeJson(output, { file: path, events: outcome.events });
    else output.out(`${path}: ${outcome.events} events.\n`);
    return EXIT.ok;
  }
  output.err(`${outcome.message}\n`);
  return EXIT.failed;
}
