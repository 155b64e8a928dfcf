/** What is read off the log: lists, records, and checks that keep nothing. */
import { openApiDocument, parsePlanDocument } from '@ladlework/contract';
import { recordCsv, recordOf } from '@ladlework/log';
import { Hono } from 'hono';
import { limited, readJson } from './body.ts';
import type { Deps, Env } from './context.ts';
import { problem } from './problem.ts';
import { lineOf, Shelves } from './shelves.ts';

export function viewRoutes({ store, version, now }: Deps): Hono<Env> {
  const app = new Hono<Env>();
  const shelves = new Shelves(store);
  const openApi = openApiDocument(version);

  app.get('/health', async (c) => {
    const last = await store.last();
    return c.json({ ok: true, version, events: last, last });
  });
  app.get('/time', (c) => c.json({ nowMs: now() }));
  app.get('/openapi.json', (c) => c.json(openApi));
  app.get('/kits', async (c) => c.json({ kits: await shelves.kits() }));
  app.get('/beers', async (c) => c.json({ beers: await shelves.beers() }));
  app.get('/brews', async (c) => c.json({ brews: await shelves.brews() }));

  app.get('/brews/:id/record', async (c) => {
    const id = c.req.param('id');
    const format = c.req.query('format') ?? 'json';
    if (format !== 'json' && format !== 'csv') {
      return problem(c, 400, 'invalid', 'format: must be json or csv.');
    }
    const state = await shelves.brew(id);
    if (state === undefined) return problem(c, 404, 'not-found', 'There is no such brew.');
    const rows = recordOf(state);
    if (format === 'json') return c.json({ brew: lineOf(state), rows });
    c.header('Content-Type', 'text/csv; charset=utf-8');
    // The id is of letters, digits, dots, dashes and underscores, or the brew would not be there.
    c.header('Content-Disposition', `attachment; filename="brew-${id}.csv"`);
    return c.body(recordCsv(rows, state));
  });

  app.post('/check', limited, async (c) => {
    const read = await readJson(c);
    if ('refusal' in read) return read.refusal;
    return c.json(parsePlanDocument(read.json));
  });

  return app;
}
