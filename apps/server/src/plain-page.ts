/** Pages for devices that are not let in yet: words, no scripts, one small style sheet. */
import type { Context } from 'hono';
import { html } from 'hono/html';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { Env } from './context.ts';

const CONTENT_POLICY = [
  "default-src 'none'",
  "style-src 'self'",
  "img-src 'self'",
  "manifest-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

type Markup = ReturnType<typeof html>;

/** Sends a page. */
export async function plainPage(
  c: Context<Env>,
  status: ContentfulStatusCode,
  title: string,
  body: Markup,
): Promise<Response> {
  c.header('Content-Security-Policy', CONTENT_POLICY);
  c.header('Cache-Control', 'no-store');
  // Without any referrer a form would be sent from an origin of null, and be refused as foreign.
  c.header('Referrer-Policy', 'same-origin');
  const page = await html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>${title} · Ladlework</title>
        <link rel="stylesheet" href="/trust.css" />
        <link rel="icon" href="/mark.svg" type="image/svg+xml" />
      </head>
      <body>
        <main>
          <p class="mark">Ladlework</p>
          <h1>${title}</h1>
          ${body}
        </main>
      </body>
    </html>`;
  return c.html(page, status);
}

/** Of the pages above. Sizes as in the page itself: to be hit with wet hands, read in steam. */
export const PLAIN_STYLE = `
:root { color-scheme: light dark; --paper: #faf8f3; --ink: #15171a; --soft: #4a4e51; --hair: #cdc8bc; --heat: #c8401c; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #0f1214; --ink: #f3f0e8; --soft: #b3b8ba; --hair: #343a3e; --heat: #ff7a52; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 400 1.0625rem/1.45 "DejaVu Sans", Verdana, system-ui, sans-serif; overflow-wrap: break-word; }
main { max-width: 46rem; margin: 0 auto; padding: 20px max(20px, 4vw) 64px; }
.mark { font-weight: 700; border-bottom: 1px solid var(--ink); padding-bottom: 12px; margin: 0 0 28px; }
h1 { font-size: 1.9rem; line-height: 1.1; margin: 0 0 16px; }
h2 { font-size: 1.25rem; border-top: 1px solid var(--ink); padding-top: 10px; margin: 36px 0 12px; }
a { color: inherit; text-underline-offset: 0.2em; }
ol, ul { padding-left: 1.4em; }
li + li { margin-top: 6px; }
.soft { color: var(--soft); }
.warn { border-left: 6px solid var(--heat); padding: 4px 0 4px 16px; }
.warn > p, .go { margin: 0; }
code { font: 600 1.0625rem/1.5 "DejaVu Sans Mono", ui-monospace, monospace; }
.print { display: block; margin: 8px 0; }
.btn, button { display: inline-flex; align-items: center; justify-content: center; min-height: 76px; padding: 8px 24px; margin: 0 19px 19px 0; border: 2px solid var(--ink); border-radius: 0; background: none; color: inherit; font: inherit; font-weight: 600; text-decoration: none; cursor: pointer; }
.solid { background: var(--ink); color: var(--paper); }
label { display: block; font-weight: 600; margin-bottom: 19px; }
input { display: block; width: 100%; max-width: 24rem; min-height: 76px; margin-top: 6px; padding: 8px 16px; border: 2px solid var(--ink); border-radius: 0; background: none; color: inherit; font: inherit; font-size: 1.25rem; }
:focus-visible { outline: 3px solid var(--ink); outline-offset: 3px; }
details { border-bottom: 1px solid var(--hair); }
summary { min-height: 76px; display: flex; align-items: center; font-weight: 600; cursor: pointer; }
summary::before { content: "+"; width: 1.4em; }
details[open] > summary::before { content: "-"; }
details > ol { margin: 0 0 20px; }
svg.qr { width: min(100%, 260px); height: auto; background: #fff; display: block; }
`;
