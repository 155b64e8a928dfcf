/** `/trust`: how a device comes to trust this brewery's server, for every kind of device. */
import { type Context, Hono } from 'hono';
import { html } from 'hono/html';
import type { Env } from './context.ts';
import { type Entrance, placesOf, securePlace } from './entrance.ts';
import { PLAIN_STYLE, plainPage } from './plain-page.ts';
import { problem } from './problem.ts';
import { qrOutline } from './qr.ts';
import { hostOf, isSecure } from './request.ts';
import { familyOf, TRUST_STEPS } from './trust-steps.ts';

/** @param entrance undefined when the server listens on the machine itself only */
export function trustRoutes(entrance: Entrance | undefined): Hono<Env> {
  const app = new Hono<Env>();
  const authority = entrance?.authority;

  app.get('/trust.css', (c) => {
    c.header('Content-Type', 'text/css; charset=utf-8');
    c.header('Cache-Control', 'no-cache');
    return c.body(PLAIN_STYLE);
  });
  app.get('/trust', (c) =>
    entrance === undefined || authority === undefined
      ? nothingToTrust(c)
      : trustPage(c, entrance, authority),
  );
  app.get('/trust/:file', (c) => {
    const file = c.req.param('file');
    if (authority === undefined || !/^ladlework-authority\.(crt|pem)$/.test(file)) {
      return problem(c, 404, 'not-found', 'There is nothing here.');
    }
    c.header('Cache-Control', 'no-store');
    c.header('Content-Disposition', `attachment; filename="${file}"`);
    if (file.endsWith('.pem')) {
      c.header('Content-Type', 'application/x-pem-file');
      return c.body(authority.rootPem);
    }
    // By this type tablets and phones know what to do with it. @source RFC 2585 gives pkix-cert
    // for the same bytes; it is the older one that phones open.
    c.header('Content-Type', 'application/x-x509-ca-cert');
    return c.body(Uint8Array.from(authority.rootDer));
  });
  return app;
}

function nothingToTrust(c: Context<Env>): Promise<Response> {
  const body = html`<p>This server serves its own computer only, or has no certificate. There is nothing to
    trust. To let tablets come, start it with <code>HOST=0.0.0.0 npm start</code>.</p>`;
  return plainPage(c, 404, 'Nothing to trust here', body);
}

function trustPage(
  c: Context<Env>,
  entrance: Entrance,
  authority: NonNullable<Entrance['authority']>,
): Promise<Response> {
  const place = securePlace(entrance, hostOf(c));
  const here = `${placesOf(entrance).plain[0]}/trust`;
  const code = qrOutline(here);
  const family = familyOf(c.req.header('user-agent') ?? '');
  const ends = new Date(authority.notAfterMs).toISOString().slice(0, 10);
  const body = html`
    <p>Once a device trusts this brewhouse’s own certificate, its line is closed to listeners, the page
      opens with the server off, the screen stays on while a brew runs, and the page can be installed.</p>
    ${
      isSecure(c)
        ? html`<p><b>You are here by https.</b> If your browser warned you on the way, it does not trust this
            brewhouse yet: go on below. If not, this device is done: <a href="/">open the page</a>.</p>`
        : html`<p><b>You are here by plain http.</b> Anybody on this network could listen in, so compare the
            fingerprint below.</p>`
    }
    <h2>1. Fetch the certificate</h2>
    <p class="go"><a class="btn solid" href="/trust/ladlework-authority.crt">Fetch ${authority.name}</a></p>
    <p class="soft">As text, for programs that ask for it: <a href="/trust/ladlework-authority.pem">PEM</a>.
      It ends on ${ends}.</p>
    <h2>2. Compare the fingerprint</h2>
    <p>The device shows it before it trusts (SHA-256). It must be the one that was printed where the server
      was started:</p>
    <code class="print">${authority.fingerprint}</code>
    <p>If they differ, somebody stands between you and the server: trust nothing.</p>
    <h2>3. Let the device trust it</h2>
    ${TRUST_STEPS.map(
      (step) => html`<details ${step.family === family ? 'open' : ''}>
        <summary>${step.title}</summary>
        <ol>${step.steps.map((line) => html`<li>${line}</li>`)}</ol>
      </details>`,
    )}
    <h2>4. Open the page</h2>
    <p>${place === undefined ? '' : html`<a class="btn solid" href="${place}/">${place}</a>`}</p>
    <p class="soft">No warning may come. Keep this address; the one without the “s” goes on working, for
      readings only.</p>
    <h2>The next device</h2>
    <svg class="qr" viewBox="0 0 ${code.size} ${code.size}" role="img" aria-label="QR code of ${here}">
      <path d="${code.path}" fill="#000" />
    </svg>
    <p>${here}</p>
    <h2>What you let in</h2>
    <p>The certificate can vouch for names that end in .local, .lan, .internal or .home.arpa and for addresses of
      private networks, and for nothing on the internet: that is written in it, and the key that could write
      another was destroyed when it was made. Take it off a device that leaves the brewhouse, where you put
      it on.</p>
  `;
  return plainPage(c, 200, 'Trust this brewhouse', body);
}
