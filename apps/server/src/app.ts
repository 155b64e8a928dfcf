/** The whole of the HTTP side, without a socket. */
import { Hono } from 'hono';
import type { Deps, Env } from './context.ts';
import { deviceRoutes } from './devices-routes.ts';
import type { Entrance } from './entrance.ts';
import { eventRoutes } from './events-routes.ts';
import { guard, knownHost, sameOrigin } from './guard.ts';
import { safeHeaders } from './headers.ts';
import type { PageFiles } from './page-files.ts';
import { pairRoutes } from './pair-routes.ts';
import { probeIntake } from './probes/intake.ts';
import { probeRoutes } from './probes/routes.ts';
import { problem } from './problem.ts';
import { trustRoutes } from './trust-routes.ts';
import { viewRoutes } from './views-routes.ts';

/**
 * @param deps store, live stream, clock, operator's log
 * @param page the built page
 * @param entrance undefined when only the machine itself is listened to
 */
export function createApp(deps: Deps, page: PageFiles, entrance: Entrance | undefined): Hono<Env> {
  const app = new Hono<Env>();
  app.use(safeHeaders);
  app.use(knownHost);
  app.use(sameOrigin);
  // A probe is no paired device: it proves itself by its token.
  app.route('/', probeIntake(deps));
  app.use(guard(entrance, deps.now));

  app.route('/', pairRoutes(entrance, deps.now));
  app.route('/', trustRoutes(entrance));
  app.route('/api', deviceRoutes(entrance, deps.live));
  app.route('/api', viewRoutes(deps));
  app.route('/api', eventRoutes(deps));
  app.route('/api', probeRoutes(deps));
  app.all('/api/*', (c) => problem(c, 404, 'not-found', 'There is no such address in the API.'));
  app.get('*', (c) => page.serve(c));

  app.notFound((c) => problem(c, 404, 'not-found', 'There is nothing here.'));
  app.onError((thrown, c) => {
    deps.log(`${c.req.method} ${c.req.path}: ${thrown.stack ?? String(thrown)}`);
    return problem(c, 500, 'internal', 'Something went wrong in the server. It is in its own log.');
  });
  return app;
}
