import { mkdirSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type TestServer, testServer } from './testing.ts';

const SCRIPT = 'export const mash = 1;\n'.repeat(200);
const FONT = Buffer.from([1, 2, 3, 4]);
let server: TestServer;

beforeEach(async () => {
  server = await testServer();
  const root = join(server.folder, 'page');
  mkdirSync(join(root, 'assets'), { recursive: true });
  writeFileSync(join(root, 'index.html'), '<!doctype html><title>Ladlework</title>');
  writeFileSync(join(root, 'sw.js'), 'self.skip = 1;');
  writeFileSync(join(root, 'assets', 'main-abc123.js'), SCRIPT);
  writeFileSync(join(root, 'assets', 'face-1.woff2'), FONT);
  writeFileSync(join(server.folder, 'secret.txt'), 'secret');
  server = await server.again({ webRoot: root });
});
afterEach(() => server.end());

/** Plain http: fetch would undo the coding before it is looked at. */
function get(path: string, headers: Record<string, string> = {}) {
  return new Promise<{ status: number; headers: Record<string, unknown>; body: Buffer }>(
    (resolve, reject) => {
      request(`${server.url}${path}`, { headers }, (incoming) => {
        const chunks: Buffer[] = [];
        incoming.on('data', (chunk: Buffer) => chunks.push(chunk));
        incoming.on('end', () =>
          resolve({
            status: incoming.statusCode ?? 0,
            headers: incoming.headers,
            body: Buffer.concat(chunks),
          }),
        );
      })
        .on('error', reject)
        .end();
    },
  );
}

it('serves the page at its address and at any address inside it', async () => {
  for (const path of ['/', '/index.html', '/brews', '/brews/b1/day']) {
    const { status, headers, body } = await get(path);
    expect(status).toBe(200);
    expect(headers['content-type']).toBe('text/html; charset=utf-8');
    expect(headers['cache-control']).toBe('no-cache');
    expect(body.toString()).toContain('<title>Ladlework');
  }
});

it('a missing script is missing, not a page', async () => {
  expect((await get('/assets/gone-1.js')).status).toBe(404);
  expect((await get('/secret.txt')).status).toBe(404);
  expect((await get('/..%2fsecret.txt')).status).toBe(404);
});

it('names with a hash are kept for ever, the rest is asked for again', async () => {
  const script = await get('/assets/main-abc123.js');
  expect(script.headers['cache-control']).toContain('immutable');
  expect(script.headers['content-type']).toBe('text/javascript; charset=utf-8');
  expect((await get('/sw.js')).headers['cache-control']).toBe('no-cache');
});

it('packs what packs, by what the browser takes', async () => {
  const path = '/assets/main-abc123.js';
  const brotli = await get(path, { 'accept-encoding': 'gzip, deflate, br' });
  expect(brotli.headers['content-encoding']).toBe('br');
  expect(brotliDecompressSync(brotli.body).toString()).toBe(SCRIPT);
  const gzip = await get(path, { 'accept-encoding': 'gzip;q=0.8, br;q=0' });
  expect(gzip.headers['content-encoding']).toBe('gzip');
  expect(gunzipSync(gzip.body).toString()).toBe(SCRIPT);
  expect(gzip.body.length).toBeLessThan(SCRIPT.length / 5);
  const plain = await get(path);
  expect(plain.headers['content-encoding']).toBeUndefined();
  expect(plain.body.toString()).toBe(SCRIPT);
  const font = await get('/assets/face-1.woff2', { 'accept-encoding': 'br' });
  expect(font.headers['content-encoding']).toBeUndefined();
  expect(font.body.equals(FONT)).toBe(true);
});

it('a page that has not changed is not sent again', async () => {
  const headers = { 'accept-encoding': 'br' };
  const first = await get('/', headers);
  const etag = String(first.headers.etag);
  const again = await get('/', { ...headers, 'if-none-match': `"other", W/${etag}` });
  expect(again.status).toBe(304);
  expect(again.body).toHaveLength(0);
  expect((await get('/', { ...headers, 'if-none-match': '"other"' })).status).toBe(200);
});

it('HEAD answers without a body', async () => {
  const response = await fetch(`${server.url}/`, { method: 'HEAD' });
  expect(response.status).toBe(200);
  expect(await response.text()).toBe('');
});

it('without a built page the API answers and the page says what to do', async () => {
  server = await server.again({ webRoot: join(server.folder, 'nothing') });
  expect(server.problems.join()).toContain('no built page');
  const { status, body } = await get('/');
  expect(status).toBe(503);
  expect(body.toString()).toContain('npm start');
  expect((await get('/api/health')).status).toBe(200);
});
