/** The invented brewery: kits and beers a new log begins with. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseBrewFile } from '@ladlework/contract';
import { canonicalJson, type EventData, type LogEvent, streamName } from '@ladlework/log';
import type { EventStore } from '@ladlework/store';

/** A brew file as found. */
export interface Example {
  readonly name: string;
  readonly json: unknown;
}

/**
 * Every brew file of a folder, by name.
 *
 * @returns the files, and a sentence for each that is not JSON
 */
export function readExamples(folder: string): { examples: Example[]; problems: string[] } {
  const examples: Example[] = [];
  const problems: string[] = [];
  const names = readdirSync(folder).filter((name) => name.endsWith('.json'));
  for (const name of names.sort()) {
    try {
      examples.push({ name, json: JSON.parse(readFileSync(join(folder, name), 'utf8')) });
    } catch (thrown) {
      if (!(thrown instanceof SyntaxError)) throw thrown;
      problems.push(`${name} is not JSON: ${thrown.message}`);
    }
  }
  return { examples, problems };
}

/**
 * Sows kits and beers into an empty log. A log in which anything was ever written is left alone.
 *
 * @param store the log
 * @param examples brew files; one that is wrong is left out and told
 * @param nowMs time of sowing
 * @returns a sentence for each thing left out
 */
export async function seedExamples(
  store: EventStore,
  examples: readonly Example[],
  nowMs: number,
): Promise<string[]> {
  if ((await store.last()) > 0) return [];
  const problems: string[] = [];
  const sown = new Map<string, { from: string; content: string; event: LogEvent }>();
  const sow = <T extends 'kit-saved' | 'beer-saved'>(
    from: string,
    stream: string,
    type: T,
    data: EventData[T],
  ) => {
    const content = canonicalJson(data);
    const known = sown.get(stream);
    if (known === undefined) {
      const event = seedEvent(stream, type, data, sown.size + 1, nowMs);
      sown.set(stream, { from, content, event });
    } else if (known.content !== content) {
      problems.push(`${from}: ${stream} is in ${known.from} with other content; left out.`);
    }
  };
  for (const { name, json } of examples) {
    const parsed = parseBrewFile(json);
    if (!parsed.ok) {
      problems.push(`${name}: ${parsed.errors[0]?.message ?? 'is not a brew file'}`);
      continue;
    }
    for (const { kit, beer, mash, day } of parsed.documents) {
      sow(name, streamName('kit', kit.id), 'kit-saved', { kit });
      sow(name, streamName('beer', beer.id), 'beer-saved', { beer, mash, day, kitId: kit.id });
    }
  }
  const saved = await store.append([...sown.values()].map((s) => s.event));
  if (!saved.ok) problems.push(saved.message);
  return problems;
}

function seedEvent<T extends 'kit-saved' | 'beer-saved'>(
  stream: string,
  type: T,
  data: EventData[T],
  counter: number,
  nowMs: number,
): LogEvent {
  const hash = createHash('sha256').update(`${stream} ${nowMs}`).digest('hex');
  const event = {
    id: hash.slice(0, 32),
    stream,
    type,
    readAtMs: nowMs,
    enteredAtMs: nowMs,
    who: 'Ladlework',
    device: 'examples',
    counter,
    data,
  };
  return event as unknown as LogEvent;
}
