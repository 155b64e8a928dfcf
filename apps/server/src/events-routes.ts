/** Writing to the log and reading from it. */

import type { Role } from '@ladlework/contract';
import { parseAppendBody, parseEvent, STREAM_NAME } from '@ladlework/contract';
import type { LogEvent } from '@ladlework/log';
import type { EventOutcome } from '@ladlework/store';
import { Hono } from 'hono';
import { limited, readJson } from './body.ts';
import type { Deps, Env } from './context.ts';
import { problem } from './problem.ts';
import { roleErrors } from './role-check.ts';

/** Most events in one answer. */
const PAGE = 1000;
/** Pages of 200 tablets, and some that have not noticed that they went to sleep. */
const MOST_STREAMS = 500;

export function eventRoutes({ store, live, log }: Deps): Hono<Env> {
  const app = new Hono<Env>();

  /** Shape and truth first, then whether this role may say it. */
  const checked = async (bodies: readonly unknown[], role: Role) => {
    const results = bodies.map(parseEvent);
    const beside = results.flatMap((r) => (r.ok ? [r.event] : []));
    return Promise.all(
      results.map(async (result, i) => {
        const json = bodies[i];
        if (!result.ok) return { json, result: { ...result, code: 'invalid' as const } };
        const errors = await roleErrors(role, result.event, beside, store);
        if (errors.length === 0) return { json, result };
        return { json, result: { ok: false as const, code: 'not-your-role' as const, errors } };
      }),
    );
  };

  app.post('/events', limited, async (c) => {
    const read = await readJson(c);
    if ('refusal' in read) return read.refusal;
    const body = parseAppendBody(read.json);
    if (!body.ok) {
      const message = `Not a batch of events. ${body.errors[0]?.message ?? ''}`;
      return problem(c, 400, 'invalid', message, body.errors);
    }
    const { role } = c.get('visitor');
    const parsed = await checked(body.events, role);
    const good: LogEvent[] = parsed.flatMap(({ result }) => (result.ok ? [result.event] : []));
    const saved =
      good.length === 0 ? { ok: true as const, outcomes: [] } : await store.append(good);
    if (!saved.ok) {
      log(saved.message);
      return problem(c, 507, `not-saved-${saved.reason}`, saved.message);
    }
    if (saved.outcomes.some((o) => o.ok && o.fresh)) live.notify();
    const outcomes = saved.outcomes.values();
    const results = parsed.map(({ json, result }) =>
      result.ok
        ? outcomeAnswer(outcomes.next().value)
        : { ok: false, ...idOf(json), code: result.code, errors: result.errors },
    );
    return c.json({ results });
  });

  app.get('/events', async (c) => {
    const after = wholeNumber(c.req.query('after') ?? '0');
    const stream = c.req.query('stream');
    if (after === undefined) {
      return problem(c, 400, 'invalid', 'after: must be a whole number, 0 or more.');
    }
    if (stream !== undefined && !STREAM_NAME.test(stream)) {
      return problem(c, 400, 'invalid', 'stream: must be kit:, beer:, probe: or brew: and an id.');
    }
    const events = await store.since(after, {
      limit: PAGE,
      ...(stream !== undefined && { stream }),
    });
    return c.json({ events, last: await store.last() });
  });

  app.get('/stream', (c) => {
    const after = wholeNumber(c.req.header('last-event-id') ?? c.req.query('after') ?? '0');
    if (after === undefined) {
      return problem(c, 400, 'invalid', 'after: must be a whole number, 0 or more.');
    }
    if (live.pages >= MOST_STREAMS) {
      c.header('Retry-After', '10');
      return problem(c, 429, 'too-many', `More than ${MOST_STREAMS} pages are open. Close some.`);
    }
    c.header('Content-Type', 'text/event-stream; charset=utf-8');
    c.header('Cache-Control', 'no-store');
    c.header('X-Accel-Buffering', 'no');
    return c.body(live.open(after, c.get('visitor').device));
  });

  return app;
}

function outcomeAnswer(outcome: EventOutcome | undefined) {
  if (outcome === undefined)
    throw new Error('the store answered for fewer events than it was given');
  if (outcome.ok) return { ok: true, id: outcome.id, seq: outcome.seq };
  const message = `id: ${outcome.id} is in the log with other content. An event is never changed: write a correction.`;
  const error = {
    code: 'contradiction',
    field: 'id',
    value: outcome.id,
    allowed: 'a new id',
    message,
  };
  return { ok: false, id: outcome.id, code: outcome.code, errors: [error] };
}

/** The id a refused event came with, so that its sender knows which it was. */
function idOf(json: unknown): { id?: string } {
  if (typeof json !== 'object' || json === null || !Object.hasOwn(json, 'id')) return {};
  const { id } = json as { id?: unknown };
  return typeof id === 'string' ? { id: id.slice(0, 64) } : {};
}

function wholeNumber(text: string): number | undefined {
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}
