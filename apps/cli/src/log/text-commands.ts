/** `export` and `import`: the log as text, one event a line, to read, keep and carry elsewhere. */
import { readFile, writeFile } from 'node:fs/promises';
import { parseEvent } from '@ladlework/contract';
import type { LogEvent } from '@ladlework/log';
import { openStore } from '@ladlework/store';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { openLog } from './open-log.ts';

/** Events read or written at once. */
const BATCH = 500;
/** More mistakes than this are not a slip. */
const MOST_ERRORS = 20;

/**
 * Writes every event, oldest first.
 *
 * @param file to write; standard output when left out. A file that is there is not overwritten
 */
export async function exportCommand(
  output: Output,
  path: string,
  file: string | undefined,
): Promise<ExitCode> {
  const log = openLog(path);
  if (!log.ok) return refuse(output, log.error);
  try {
    const lines: string[] = [];
    let after = 0;
    for (;;) {
      const events = await log.value.since(after, { limit: BATCH });
      for (const { event } of events) lines.push(`${JSON.stringify(event)}\n`);
      const last = events.at(-1);
      if (last === undefined) break;
      after = last.seq;
    }
    if (file === undefined) {
      output.out(lines.join(''));
      return EXIT.ok;
    }
    try {
      await writeFile(file, lines.join(''), { flag: 'wx' });
    } catch (thrown) {
      const why = thrown instanceof Error ? thrown.message : String(thrown);
      return refuse(output, `${file} cannot be written: ${why}. Name another file.`);
    }
    output.out(`${file}: ${lines.length} events.\n`);
    return EXIT.ok;
  } finally {
    await log.value.close();
  }
}

/**
 * Takes events into the log, which is made when there is none. Nothing is taken from a file with a
 * mistake in it; events the log has already are passed over.
 */
export async function importCommand(
  output: Output,
  path: string,
  file: string,
  json: boolean,
): Promise<ExitCode> {
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (thrown) {
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    return refuse(output, `${file} cannot be read: ${why}. Check the name.`);
  }
  const { events, errors } = readEvents(file, text);
  if (errors.length > 0) return refuse(output, ...errors.slice(0, MOST_ERRORS));
  const opened = openStore(path);
  if (!opened.ok) return refuse(output, opened.error.message);
  try {
    let fresh = 0;
    const other: string[] = [];
    for (let i = 0; i < events.length; i += BATCH) {
      const appended = await opened.store.append(events.slice(i, i + BATCH));
      if (!appended.ok) {
        output.err(`${appended.message} ${fresh} events were taken; run it again.\n`);
        return EXIT.failed;
      }
      for (const outcome of appended.outcomes) {
        if (!outcome.ok) other.push(outcome.id);
        else if (outcome.fresh) fresh += 1;
      }
    }
    const known = events.length - fresh - other.length;
    if (json) writeJson(output, { taken: fresh, known, other_content: other });
    else output.out(`${fresh} events taken, ${known} known already.\n`);
    for (const id of other)
      output.err(`event ${id} is in the log with other content; the log's own was kept.\n`);
    return other.length > 0 ? EXIT.failed : EXIT.ok;
  } finally {
    await opened.store.close();
  }
}

function readEvents(file: string, text: string): { events: LogEvent[]; errors: string[] } {
  const events: LogEvent[] = [];
  const errors: string[] = [];
  text.split('\n').forEach((line, i) => {
    if (line.trim() === '') return;
    let json: unknown;
    try {
      json = JSON.parse(line);
    } catch (thrown) {
      const why = thrown instanceof Error ? thrown.message : String(thrown);
      errors.push(`${file}: line ${i + 1} is not JSON: ${why}.`);
      return;
    }
    const parsed = parseEvent(json);
    if (parsed.ok) events.push(parsed.event);
    else errors.push(...parsed.errors.map((e) => `${file}: line ${i + 1}: ${e.message}`));
  });
  return { events, errors };
}
