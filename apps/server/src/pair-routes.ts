/** `/pair`: a device types its code and is given its token. What a stranger sees of the rest. */
import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { html } from 'hono/html';
import type { Env } from './context.ts';
import { LONGEST_NAME } from './devices.ts';
import { type Entrance, securePlace } from './entrance.ts';
import { plainPage } from './plain-page.ts';
import { problem } from './problem.ts';
import { RateLimit } from './rate-limit.ts';
import { addressOf, hostOf, isSecure } from './request.ts';
import { giveToken } from './tokens.ts';

/** A person mistypes a code now and then. Ten letters of 26 stand four centuries against this. */
const PAIRINGS = { perSecond: 1 / 20, burst: 5 };
const MOST_BYTES = 4096;

/**
 * @param entrance undefined when the server listens on the machine itself only
 * @param now clock [ms]
 */
export function pairRoutes(entrance: Entrance | undefined, now: () => number): Hono<Env> {
  const app = new Hono<Env>();
  const attempts = new RateLimit(PAIRINGS.perSecond, PAIRINGS.burst, now);
  const limit = bodyLimit({
    maxSize: MOST_BYTES,
    onError: (c) => problem(c, 413, 'too-large', 'That is more than a code and a name.'),
  });

  // Opening the address pairs nobody: pages are opened by previews and by mistake.
  app.get('/pair', async (c) => {
    if (entrance === undefined) return c.redirect('/', 303);
    return pairPage(c, entrance, 200, undefined, c.req.query('code') ?? '');
  });

  app.post('/pair', limit, async (c) => {
    if (entrance === undefined) return c.redirect('/', 303);
    if (!attempts.take(addressOf(c))) {
      c.header('Retry-After', '20');
      return pairPage(c, entrance, 429, 'Too many wrong codes. Wait half a minute.', '');
    }
    const form = new URLSearchParams(await c.req.text());
    const role = entrance.codes.roleOf(form.get('code') ?? '');
    if (role === undefined) {
      const message = 'That is not a code of today: they are new at each start of the server.';
      return pairPage(c, entrance, 403, message, '');
    }
    const token = entrance.devices.add(role, form.get('name') ?? '', isSecure(c));
    if (token === undefined) {
      const message = 'Too many devices are paired. Take some off the list first.';
      return pairPage(c, entrance, 409, message, '');
    }
    giveToken(c, token);
    return c.redirect('/', 303);
  });
  return app;
}

/** What a device that is not paired sees instead of the page. */
export function welcomePage(c: Context<Env>, entrance: Entrance): Promise<Response> {
  const body = html`
    <p>This is a brewhouse’s server. Devices come in once, by two steps.</p>
    ${trustStep(c, entrance)}
    <h2>Pair this device</h2>
    <p>The code stands where the server was started, and on the Devices page of a brewer’s device.</p>
    <p><a class="btn solid" href="/pair">Pair</a></p>
  `;
  return plainPage(c, 401, 'This device is not paired', body);
}

function pairPage(
  c: Context<Env>,
  entrance: Entrance,
  status: 200 | 403 | 409 | 429,
  wrong: string | undefined,
  code: string,
): Promise<Response> {
  const body = html`
    ${wrong === undefined ? '' : html`<div class="warn" role="alert"><p>${wrong}</p></div>`}
    ${isSecure(c) ? '' : html`${trustStep(c, entrance)}<h2>Then: the code</h2>`}
    <form action="/pair" method="post">
      <label
        >Code
        <input name="code" value="${code.slice(0, 40)}" autocomplete="off" autocapitalize="off"
          autocorrect="off" spellcheck="false" required
      /></label>
      <label
        >What this device is called
        <input name="name" maxlength="${LONGEST_NAME}" autocomplete="off" placeholder="Tablet at the kettle"
      /></label>
      <button class="solid">Pair</button>
    </form>
    <p class="soft">The code says what the device may do. Brewer: everything. Helper: readings and taps of the day.
      Viewer: reading only.</p>
  `;
  return plainPage(c, status, 'Pair this device', body);
}

function trustStep(c: Context<Env>, entrance: Entrance) {
  const place = securePlace(entrance, hostOf(c));
  if (isSecure(c) || place === undefined) return '';
  return html`
    <h2>First: a line that nobody listens in on</h2>
    <p>You came by plain http. That works for readings, but anybody on this network can listen in, and
      without trust a browser keeps no page for the hours without network and lets the screen fall asleep.</p>
    <p><a class="btn" href="/trust">Trust this brewhouse</a></p>
    <p>Done that already? <a href="${place}/pair">${place}</a></p>
  `;
}
