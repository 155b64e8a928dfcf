/** The server as the network finds it: one port, http and https, a page for strangers. */
import { X509Certificate } from 'node:crypto';
import { type IncomingHttpHeaders, request as plainRequest } from 'node:http';
import { request as secureRequest } from 'node:https';
import { connect } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { Tablet } from '@ladlework/log/testing';
import jsQR from 'jsqr';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { announcement } from './announce.ts';
import { type TestServer, testServer } from './testing.ts';

let server: TestServer;
let port: number;
let rootPem: string;

beforeAll(async () => {
  // Every test asks from this machine, so the machine itself must be paired like all others.
  server = await testServer({ pairAll: true });
  port = Number(new URL(server.url).port);
  rootPem = (await ask('http', '/trust/ladlework-authority.pem')).text;
});
afterAll(() => server.end());

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
  readonly bytes: Buffer;
}

/** A request by http, or by https from a client that trusts nothing but the brewery's root. */
function ask(
  scheme: 'http' | 'https',
  path: string,
  init: { method?: string; body?: string; headers?: Record<string, string>; host?: string } = {},
): Promise<Answer> {
  const name = init.host ?? '127.0.0.1';
  const options = {
    port,
    host: '127.0.0.1',
    path,
    method: init.method ?? 'GET',
    headers: { host: `${name}:${port}`, ...init.headers },
    agent: false as const,
  };
  return new Promise((resolve, reject) => {
    const outgoing =
      scheme === 'http'
        ? plainRequest(options)
        : secureRequest({ ...options, ca: rootPem, ...(init.host && { servername: init.host }) });
    outgoing.on('error', reject);
    outgoing.on('response', (incoming) => {
      const chunks: Buffer[] = [];
      incoming.on('data', (chunk: Buffer) => chunks.push(chunk));
      incoming.on('end', () => {
        const bytes = Buffer.concat(chunks);
        const { statusCode = 0, headers } = incoming;
        resolve({ status: statusCode, headers, text: String(bytes), bytes });
      });
    });
    outgoing.end(init.body);
  });
}

const code = (role: 'brewer' | 'helper' | 'viewer') => server.pairing?.codes[role] ?? '';
const form = { 'content-type': 'application/x-www-form-urlencoded' };

async function paired(scheme: 'http' | 'https', role: 'brewer' | 'helper' | 'viewer') {
  const answer = await ask(scheme, '/pair', {
    method: 'POST',
    headers: form,
    body: `code=${code(role)}&name=${scheme}`,
  });
  expect(answer.status).toBe(303);
  return { cookie: cookieOf(answer) };
}

const cookieOf = (answer: Answer) =>
  (answer.headers['set-cookie'] ?? [])
    .map((c) => c.split(';')[0] ?? '')
    .filter((c) => !c.endsWith('='))
    .join('; ');

describe('one port', () => {
  it('answers http and https, the latter with a chain that leads to the root', async () => {
    expect((await ask('http', '/api/health')).status).toBe(401);
    expect((await ask('https', '/api/health')).status).toBe(401);
    expect((await ask('https', '/trust', { host: 'localhost' })).status).toBe(200);
    const word = hostname().toLowerCase().split('.')[0];
    expect((await ask('https', '/trust', { host: `${word}.local` })).status).toBe(200);
  });

  it('refuses a client that does not know the root', async () => {
    const strange = new Promise((resolve) => {
      const outgoing = secureRequest({ port, host: '127.0.0.1', path: '/', agent: false });
      outgoing.on('error', (error: NodeJS.ErrnoException) => resolve(error.code));
      outgoing.end();
    });
    expect(await strange).toMatch(/SELF_SIGNED|UNABLE_TO/);
  });

  it('outlives lines that say nothing, nonsense, or half a greeting', async () => {
    for (const bytes of ['', 'x', '\u0016', '\u0016\u0003\u0001nonsense', 'GET /']) {
      await new Promise<void>((resolve) => {
        const socket = connect(port, '127.0.0.1', () => {
          socket.write(bytes, 'latin1');
          setTimeout(() => socket.destroy(), 30);
        });
        socket.on('error', () => undefined);
        socket.on('close', () => resolve());
      });
    }
    expect((await ask('https', '/trust')).status).toBe(200);
    expect((await ask('http', '/trust')).status).toBe(200);
  });

  it('never asks browsers to forget plain http: readings must get through without trust', async () => {
    for (const path of ['/trust', '/', '/api/health']) {
      expect((await ask('https', path)).headers['strict-transport-security']).toBeUndefined();
    }
  });

  it('takes a large batch by https as by http', async () => {
    const headers = { ...(await paired('https', 'brewer')), 'content-type': 'application/json' };
    const tablet = new Tablet('big', 'B');
    const events = Array.from({ length: 500 }, () => tablet.wait(1).temp(62));
    const answer = await ask('https', '/api/events', {
      method: 'POST',
      headers,
      body: JSON.stringify({ events }),
    });
    const { results } = JSON.parse(answer.text) as { results: { ok: boolean }[] };
    expect(results.filter((r) => r.ok)).toHaveLength(500);
  });
});

describe('a token', () => {
  it('given by https is never taken in the clear', async () => {
    const answer = await ask('https', '/pair', {
      method: 'POST',
      headers: form,
      body: `code=${code('viewer')}`,
    });
    expect(answer.headers['set-cookie']?.[0]).toMatch(
      /^__Host-.*; HttpOnly; Secure; SameSite=Strict/,
    );
    const headers = { cookie: cookieOf(answer) };
    expect((await ask('https', '/api/me', { headers })).status).toBe(200);
    expect((await ask('http', '/api/me', { headers })).status).toBe(401);
  });

  it('given in the clear is exchanged when the page is opened by https, and then worth nothing', async () => {
    const headers = await paired('http', 'helper');
    expect((await ask('http', '/api/me', { headers })).status).toBe(200);
    // Requests beside the page do not exchange it: others are on their way with it.
    expect((await ask('https', '/api/me', { headers })).headers['set-cookie']).toBeUndefined();
    const opened = await ask('https', '/', {
      headers: { ...headers, 'sec-fetch-mode': 'navigate' },
    });
    const fresh = { cookie: cookieOf(opened) };
    expect(fresh.cookie).toMatch(/^__Host-/);
    const me = JSON.parse((await ask('https', '/api/me', { headers: fresh })).text);
    expect(me).toMatchObject({ role: 'helper', secure: true, name: 'http' });
    expect((await ask('http', '/api/me', { headers })).status).toBe(401);
    expect((await ask('https', '/api/me', { headers })).status).toBe(401);
  });

  it('is no use to a page that came in the clear and writes by https', async () => {
    const headers = { ...(await paired('https', 'brewer')), 'content-type': 'application/json' };
    const answer = await ask('https', '/api/events', {
      method: 'POST',
      headers: { ...headers, origin: `http://127.0.0.1:${port}` },
      body: '{"events":[]}',
    });
    expect(answer.status).toBe(403);
  });
});

describe('the page for strangers', () => {
  it('leads from plain http to trust and to pairing, without scripts', async () => {
    const page = await ask('http', '/');
    expect(page.status).toBe(401);
    expect(page.text).toContain('href="/trust"');
    expect(page.text).toContain('href="/pair"');
    expect(page.text).toContain(`https://127.0.0.1:${port}`);
    for (const path of ['/', '/trust', '/pair']) {
      for (const scheme of ['http', 'https'] as const) {
        const { text, headers } = await ask(scheme, path);
        expect(text).not.toMatch(/<script|style=|<style/);
        // With none at all, browsers send a form's origin as null.
        expect(headers['referrer-policy']).toBe('same-origin');
        expect(headers['content-security-policy']).toMatch(/^default-src 'none'; style-src 'self'/);
      }
    }
    const css = await ask('http', '/trust.css');
    expect(css.headers['content-type']).toContain('text/css');
  });

  it('hands out the root in the form devices open, with the fingerprint that is printed', async () => {
    const der = await ask('http', '/trust/ladlework-authority.crt');
    expect(der.headers['content-type']).toBe('application/x-x509-ca-cert');
    const root = new X509Certificate(der.bytes);
    expect(root.ca).toBe(true);
    expect(new X509Certificate(rootPem).fingerprint256).toBe(root.fingerprint256);
    const said = server.pairing?.fingerprint ?? '';
    expect(said.replaceAll(' ', '')).toBe(root.fingerprint256.replaceAll(':', ''));
    expect((await ask('http', '/trust')).text).toContain(said);
    const printed = announcement(server, 'data').join('\n');
    expect(printed.replaceAll(/\s/g, '')).toContain(said.replaceAll(' ', ''));
    expect(printed).toContain(code('helper').slice(0, 5));
    for (const path of ['/trust/signer.key', '/trust/server.key', '/trust/..%2fsigner.key']) {
      expect((await ask('http', path)).status).toBeGreaterThanOrEqual(400);
    }
  });

  it('opens the steps of the device that asks, and has those of all others', async () => {
    const agents = {
      'iPad, iPhone': 'Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X)',
      'Android tablet or phone': 'Mozilla/5.0 (Linux; Android 14; Tablet)',
      'Windows computer': 'Mozilla/5.0 (Windows NT 10.0; Win64; x64)',
      Mac: 'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7)',
      Chromebook: 'Mozilla/5.0 (X11; CrOS x86_64 14541.0.0)',
      'Linux computer': 'Mozilla/5.0 (X11; Linux x86_64)',
    };
    for (const [title, agent] of Object.entries(agents)) {
      const { text } = await ask('http', '/trust', { headers: { 'user-agent': agent } });
      const open = /<details open[^>]*>\s*<summary>([^<]*)/.exec(text)?.[1];
      expect(open).toBe(title);
      for (const other of Object.keys(agents))
        expect(text).toContain(`<summary>${other}</summary>`);
    }
  });

  it('draws a code that a camera reads: decoded by a decoder that knows nothing of the encoder', async () => {
    const { text } = await ask('http', '/trust');
    const [, size = '', path = ''] =
      /viewBox="0 0 (\d+) \1"[\s\S]*?<path d="([^"]+)"/.exec(text) ?? [];
    const shown = /<svg[\s\S]*<\/svg>\s*<p>([^<]+)<\/p>/.exec(text)?.[1];
    expect(shown).toMatch(/^http:\/\/.+\/trust$/);
    expect(decoded(Number(size), path)).toBe(shown);
  });

  it('codes of the Devices page pair as they say', async () => {
    const headers = await paired('https', 'brewer');
    const list = JSON.parse((await ask('https', '/api/devices', { headers })).text) as {
      codes: { role: string; url: string; code: string; qr: { size: number; path: string } }[];
    };
    expect(list.codes.map((c) => c.role)).toEqual(['brewer', 'helper', 'viewer']);
    for (const { url, code: printed, qr } of list.codes) {
      expect(decoded(qr.size, qr.path)).toBe(url);
      const { pathname, search } = new URL(url);
      const page = await ask('https', pathname + search);
      expect(page.text).toContain(`value="${printed}"`);
    }
  });
});

it('stays trusted over a restart', async () => {
  const before = server.pairing?.fingerprint;
  server = await server.again();
  port = Number(new URL(server.url).port);
  expect(server.pairing?.fingerprint).toBe(before);
  expect((await ask('https', '/trust')).status).toBe(200);
});

it('goes on by plain http, and says why, when the authority is damaged', async () => {
  const { writeFileSync } = await import('node:fs');
  writeFileSync(join(server.folder, 'authority', 'signer.key'), 'gone');
  server = await server.again();
  port = Number(new URL(server.url).port);
  expect(server.problems.join(' ')).toMatch(/cannot be used .* plain http only/);
  expect((await ask('http', '/')).status).toBe(401);
  expect((await ask('http', '/trust')).status).toBe(404);
  const headers = await paired('http', 'helper');
  expect((await ask('http', '/api/time', { headers })).status).toBe(200);
});

/** Paints an outline of runs and has it read. */
function decoded(size: number, path: string): string | undefined {
  const scale = 4;
  const width = size * scale;
  const pixels = new Uint8ClampedArray(width * width * 4).fill(255);
  for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\3z/g)) {
    for (let py = Number(y) * scale; py < (Number(y) + 1) * scale; py += 1) {
      for (let px = Number(x) * scale; px < (Number(x) + Number(length)) * scale; px += 1) {
        pixels.fill(0, 4 * (py * width + px), 4 * (py * width + px) + 3);
      }
    }
  }
  return jsQR(pixels, width, width)?.data;
}
