/** Where probes send to over HTTP. They are no paired device: each proves itself by its own token. */
import type { Context } from 'hono';
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import type { Deps, Env } from '../context.ts';
import { problem } from '../problem.ts';
import { RateLimit } from '../rate-limit.ts';
import { addressOf } from '../request.ts';
import type { Taken } from './probes.ts';

/** A thousand readings with their times. */
const MOST_BYTES = 64 * 1024;
/** Wrong tokens from one address: a device that was set up wrongly, not a search. */
const WRONG = { perSecond: 0.5, burst: 20 };

const limited = bodyLimit({
  maxSize: MOST_BYTES,
  onError: (c) => {
    c.header('Connection', 'close');
    const message = `The body is larger than ${MOST_BYTES / 1024} kB. Send less at once.`;
    return problem(c, 413, 'too-large', message);
  },
});

/** `POST /api/probes/:id/readings`; stands before the guard. */
export function probeIntake({ probes, tokens, now }: Deps): Hono<Env> {
  const app = new Hono<Env>();
  const wrong = new RateLimit(WRONG.perSecond, WRONG.burst, now);

  app.post('/api/probes/:id/readings', limited, async (c) => {
    const sent = readBody(c.req.header('content-type') ?? '', await c.req.text());
    const token = bearer(c.req.header('authorization')) ?? sent.token ?? '';
    const found = await probes.find(c.req.param('id'));
    if (found === undefined || !tokens.fits(found.item, token)) {
      if (!wrong.take(addressOf(c))) {
        c.header('Retry-After', '2');
        return problem(c, 429, 'too-many', 'Too many wrong tokens from here. Wait two seconds.');
      }
      const message = 'No such probe, or not its token. Both are shown on the kit page.';
      return problem(c, 401, 'not-this-probe', message);
    }
    const probe = found.item;
    if (sent.wrong !== undefined) {
      probes.refuse(probe, sent.wrong.message);
      return problem(c, sent.wrong.status, sent.wrong.code, sent.wrong.message);
    }
    return answer(c, await probes.take(probe, sent.json, 'http'));
  });
  return app;
}

function answer(c: Context, taken: Taken): Response {
  if (taken.ok) return c.json({ taken: taken.taken });
  if (taken.code === 'invalid') {
    return problem(c, 400, 'invalid', taken.errors[0]?.message ?? '', taken.errors);
  }
  if (taken.code === 'not-saved') return problem(c, 507, 'not-saved', taken.message);
  c.header('Retry-After', '1');
  return problem(c, 429, 'too-many', taken.message);
}

const bearer = (header: string | undefined) => /^Bearer (\S{1,200})$/i.exec(header ?? '')?.[1];

interface Sent {
  readonly json?: unknown;
  readonly token?: string;
  readonly wrong?: { readonly status: 400 | 415; readonly code: string; readonly message: string };
}

/** JSON, a bare number as text, or a form with `value`, `unit`, `atMs` and `token`. */
function readBody(type: string, text: string): Sent {
  const kind = type.split(';')[0]?.trim().toLowerCase() ?? '';
  if (kind === 'application/json') {
    try {
      return { json: JSON.parse(text) };
    } catch {
      const message = 'The body is not JSON. Check what was sent.';
      return { wrong: { status: 400, code: 'not-json', message } };
    }
  }
  if (kind === 'text/plain' || kind === '') return { json: text.trim() };
  if (kind === 'application/x-www-form-urlencoded') return readForm(text);
  const message =
    'Send application/json, text/plain with a bare number, or a form (application/x-www-form-urlencoded).';
  return { wrong: { status: 415, code: 'unknown-form', message } };
}

function readForm(text: string): Sent {
  const { token, atMs, ...rest } = Object.fromEntries(new URLSearchParams(text));
  const at = atMs === undefined ? {} : { atMs: /^\d{1,15}$/.test(atMs) ? Number(atMs) : atMs };
  return { json: { ...rest, ...at }, ...(token !== undefined && { token }) };
}
