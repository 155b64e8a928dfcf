/** The few requests the page makes. Every answer is checked before it is believed. */
import {
  AppendAnswer,
  DevicesAnswer,
  DoneAnswer,
  ErrorAnswer,
  EventsAnswer,
  MeAnswer,
  MOST_EVENTS,
  parseEvent,
  TimeAnswer,
} from '@ladlework/contract';
import type { LogEvent } from '@ladlework/log';
import { fail, ok, type Result } from '@ladlework/quantity';
import * as v from 'valibot';

/** The server could not be reached, or answered what nobody asked for. */
export interface NoAnswer {
  readonly reached: boolean;
  readonly message: string;
  /** HTTP status, where there was one. */
  readonly status?: number;
}

const PATIENCE_MS = 8000;

/** Asks the server; the answer is held against its schema. */
export async function ask<S extends v.GenericSchema>(
  schema: S,
  path: string,
  init: RequestInit = {},
): Promise<Result<v.InferOutput<S>, NoAnswer>> {
  let response: Response;
  try {
    response = await fetch(path, { ...init, signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch (error) {
    return fail({
      reached: false,
      message: error instanceof Error ? error.message : String(error),
    });
  }
  if (!response.ok) {
    const { status } = response;
    return fail({ reached: true, status, message: await sentenceOf(response) });
  }
  try {
    const parsed = v.safeParse(schema, await response.json());
    if (parsed.success) return ok(parsed.output);
    return fail({
      reached: true,
      message: 'the server answered in a form this page does not know',
    });
  } catch (error) {
    return fail({ reached: true, message: error instanceof Error ? error.message : String(error) });
  }
}

/** What the server says is wrong, in its own words where it has some. */
async function sentenceOf(response: Response): Promise<string> {
  const bare = `the server answered ${response.status}`;
  try {
    const parsed = v.safeParse(ErrorAnswer, await response.json());
    return parsed.success ? parsed.output.error.message : bare;
  } catch {
    // Not JSON: an answer of something that stands in between.
    return bare;
  }
}

const WRITE = { method: 'POST', headers: { 'content-type': 'application/json' } } as const;

export type Me = v.InferOutput<typeof MeAnswer>;
export type Devices = v.InferOutput<typeof DevicesAnswer>;

/** Who the server takes this device for. */
export const askMe = (): Promise<Result<Me, NoAnswer>> =>
  ask(MeAnswer, '/api/me', { cache: 'no-store' });

/** Paired devices and codes; a brewer's only. */
export const askDevices = (): Promise<Result<Devices, NoAnswer>> =>
  ask(DevicesAnswer, '/api/devices', { cache: 'no-store' });

/** Shuts a device out. */
export const revokeDevice = (id: string): Promise<Result<{ ok: true }, NoAnswer>> =>
  ask(DoneAnswer, `/api/devices/${encodeURIComponent(id)}/revoke`, WRITE);

/** Makes new codes. */
export const renewCodes = (): Promise<Result<{ ok: true }, NoAnswer>> =>
  ask(DoneAnswer, '/api/devices/codes', WRITE);

/** The server's clock, epoch ms. */
export async function askTime(): Promise<Result<number, NoAnswer>> {
  const answer = await ask(TimeAnswer, '/api/time', { cache: 'no-store' });
  return answer.ok ? ok(answer.value.nowMs) : answer;
}

export interface SendAnswer {
  readonly held: readonly string[];
  readonly refused: readonly { readonly id: string; readonly reason: string }[];
}

/** Sends events, at most as many as the server takes at once; it answers when they are on disk. */
export async function sendEvents(
  events: readonly LogEvent[],
): Promise<Result<SendAnswer, NoAnswer>> {
  const batch = events.slice(0, MOST_EVENTS);
  const answer = await ask(AppendAnswer, '/api/events', {
    ...WRITE,
    body: JSON.stringify({ events: batch }),
  });
  if (!answer.ok) return answer;
  const held: string[] = [];
  const refused: { id: string; reason: string }[] = [];
  for (const [i, result] of answer.value.results.entries()) {
    const id = batch[i]?.id;
    if (id === undefined) continue;
    if (result.ok) held.push(id);
    else {
      const reason = result.errors.map((e) => e.message).join(' ') || result.code;
      refused.push({ id, reason });
    }
  }
  return ok({ held, refused });
}

/** Events after a place in the server's log, a page of them. */
export async function eventsAfter(
  sequence: number,
): Promise<
  Result<{ readonly events: LogEvent[]; readonly upTo: number; readonly last: number }, NoAnswer>
> {
  const answer = await ask(EventsAnswer, `/api/events?after=${sequence}`, { cache: 'no-store' });
  if (!answer.ok) return answer;
  const { events, last } = answer.value;
  const upTo = events.reduce((most, e) => Math.max(most, e.seq), sequence);
  return ok({ events: events.map((e) => e.event), upTo, last });
}

/** One message of the live stream; nothing when it is none of ours. */
export function readStreamed(text: string): LogEvent | undefined {
  try {
    const json: unknown = JSON.parse(text);
    const inner = typeof json === 'object' && json !== null && 'event' in json ? json.event : json;
    const parsed = parseEvent(inner);
    return parsed.ok ? parsed.event : undefined;
  } catch {
    // Cut off by a falling network; what is missing is asked for by number when it is back.
    return undefined;
  }
}
