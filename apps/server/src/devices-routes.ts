/** Who one is, who else is let in, and by which codes. */

import { ROLES } from '@ladlework/contract';
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import type { Env } from './context.ts';
import { type Entrance, placesOf } from './entrance.ts';
import type { LiveStream } from './live-stream.ts';
import { problem } from './problem.ts';
import { qrOutline } from './qr.ts';
import { isSecure } from './request.ts';

/**
 * @param entrance undefined when the server listens on the machine itself only
 * @param live whose streams end with a device that is shut out
 */
export function deviceRoutes(entrance: Entrance | undefined, live: LiveStream): Hono<Env> {
  const app = new Hono<Env>();
  const small = bodyLimit({ maxSize: 1024 });

  app.get('/me', (c) => {
    const { role, device } = c.get('visitor');
    const own = entrance?.devices.list().find((d) => d.id === device);
    return c.json({ role, secure: isSecure(c), ...(own && { device: own.id, name: own.name }) });
  });

  app.get('/devices', (c) => {
    if (entrance === undefined) return c.json({ devices: [], codes: [] });
    const here = c.get('visitor').device;
    const places = placesOf(entrance);
    const pairAt = `${places.secure[0] ?? places.plain[0]}/pair`;
    const trustAt = `${places.plain[0]}/trust`;
    const { authority } = entrance;
    return c.json({
      devices: entrance.devices.list().map(({ token: _, ...device }) => ({
        ...device,
        here: device.id === here,
      })),
      codes: ROLES.map((role) => {
        const code = entrance.codes.of(role);
        const url = `${pairAt}?code=${code}`;
        return { role, code, url, qr: qrOutline(url) };
      }),
      ...(authority && {
        trust: {
          name: authority.name,
          fingerprint: authority.fingerprint,
          endsAtMs: authority.notAfterMs,
          url: trustAt,
          qr: qrOutline(trustAt),
        },
      }),
    });
  });

  app.post('/devices/:id/revoke', small, (c) => {
    const id = c.req.param('id');
    if (entrance?.devices.revoke(id) !== true) {
      return problem(c, 404, 'not-found', 'There is no such device. Look at the list again.');
    }
    live.closeOf(id);
    return c.json({ ok: true });
  });

  app.post('/devices/codes', small, (c) => {
    entrance?.codes.renew();
    return c.json({ ok: true });
  });

  return app;
}
