/** What pages and people ask about probes. Behind the guard like everything else. */
import { calibrated, probeAt, type ShelvedProbe } from '@ladlework/log';
import { type Context, Hono } from 'hono';
import type { Deps, Env } from '../context.ts';
import { problem } from '../problem.ts';
import { TOPIC_ROOT } from './topics.ts';

/** Rows in one answer: a whole brew day of a probe that moves all the time. */
const MOST_ROWS = 5000;

export function probeRoutes({ probes, tokens, mqtt }: Deps): Hono<Env> {
  const app = new Hono<Env>();

  app.get('/probes', async (c) => {
    const all = await probes.all();
    return c.json({ probes: all.map(lineOf) });
  });

  app.get('/probes/:id/readings', async (c) => {
    const found = await probes.find(c.req.param('id'), true);
    if (found === undefined) return noProbe(c);
    const fromMs = wholeNumber(c.req.query('from') ?? '0');
    const toMs = wholeNumber(c.req.query('to') ?? String(Number.MAX_SAFE_INTEGER));
    if (fromMs === undefined || toMs === undefined || toMs < fromMs) {
      const message = 'from, to: must be whole milliseconds since 1970, from no later than to.';
      return problem(c, 400, 'invalid', message);
    }
    const rows = await probes.kept(found.item, fromMs, toMs, MOST_ROWS);
    return c.json({ probe: found.id, rows: rows.map(({ probe: _, ...row }) => row) });
  });

  app.get('/probes/:id/access', async (c) => {
    const found = await probes.find(c.req.param('id'), true);
    if (found === undefined) return noProbe(c);
    const probe = found.item;
    return c.json({
      http: { path: `/api/probes/${probe.id}/readings`, token: tokens.of(probe) },
      mqtt: {
        topic: `${TOPIC_ROOT}${probe.id}`,
        user: probe.id,
        password: tokens.of(probe),
        ...mqtt(),
      },
    });
  });

  const lineOf = (found: ShelvedProbe) => {
    const { by, problem: wrong, newest } = probes.standing(found.item);
    return {
      probe: found.item,
      ...(by && { by }),
      ...(wrong && { problem: wrong }),
      ...(newest && {
        newest: {
          atMs: newest.atMs,
          shows: newest.value,
          value: calibrated(probeAt(found, newest.atMs), newest.value),
        },
      }),
    };
  };
  return app;
}

const noProbe = (c: Context) => problem(c, 404, 'not-found', 'There is no such probe.');

function wholeNumber(text: string): number | undefined {
  return /^\d{1,16}$/.test(text) ? Number(text) : undefined;
}
