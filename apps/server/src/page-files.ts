/**
 * The built page, read once at the start. Only what was found then is served: a path in a request
 * is a key of this table and never touches the disk.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import type { Context } from 'hono';
import type { Env } from './context.ts';
import { problem } from './problem.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
};
/** Formats that are compressed already. */
const PACKED = new Set(['.png', '.ico', '.woff2']);
/** Names that carry a hash of the content never mean anything else. */
const FOREVER = 'public, max-age=31536000, immutable';

type Coding = 'br' | 'gzip' | 'identity';

interface PageFile {
  readonly type: string;
  readonly etag: string;
  readonly forever: boolean;
  readonly bytes: Buffer;
  /** Packed at the first request that takes them, then kept. */
  readonly packed: Map<Coding, Buffer>;
  readonly packable: boolean;
}

export class PageFiles {
  readonly #files = new Map<string, PageFile>();
  readonly #root: string;

  /** @param root folder of the built page */
  constructor(root: string) {
    this.#root = root;
    for (const path of filesUnder(root)) {
      const bytes = readFileSync(join(root, path));
      const extension = extname(path).toLowerCase();
      this.#files.set(`/${path}`, {
        type: TYPES[extension] ?? 'application/octet-stream',
        etag: `"${createHash('sha256').update(bytes).digest('base64url').slice(0, 22)}"`,
        forever: path.startsWith('assets/'),
        bytes,
        packed: new Map(),
        packable: !PACKED.has(extension) && bytes.length > 512,
      });
    }
  }

  /** Whether there is a page at all. */
  get built(): boolean {
    return this.#files.has('/index.html');
  }

  /** The file asked for, or the page for any address inside it. */
  serve(c: Context<Env>): Response {
    const path = c.req.path;
    const file = this.#files.get(path === '/' ? '/index.html' : path);
    if (file !== undefined) return answer(c, file);
    const index = this.#files.get('/index.html');
    if (index === undefined) {
      const message = `The page has not been built. Run npm start, or npm run build, and start again.`;
      return problem(c, 503, 'no-page', message);
    }
    // An address inside the page has no ending; a missing picture must not come back as a page.
    if (extname(path) === '') return answer(c, index);
    return problem(c, 404, 'not-found', 'There is no such file.');
  }

  /** For a message to the operator. */
  get root(): string {
    return this.#root;
  }
}

function answer(c: Context<Env>, file: PageFile): Response {
  c.header('Content-Type', file.type);
  c.header('Cache-Control', file.forever ? FOREVER : 'no-cache');
  c.header('Vary', 'Accept-Encoding');
  const coding = file.packable ? codingOf(c.req.header('accept-encoding') ?? '') : 'identity';
  // Each coding is its own sequence of bytes and has its own tag.
  const etag = coding === 'identity' ? file.etag : `${file.etag.slice(0, -1)}-${coding}"`;
  c.header('ETag', etag);
  const asked = c.req.header('if-none-match') ?? '';
  if (asked.split(',').some((tag) => tag.trim().replace(/^W\//, '') === etag)) {
    return c.body(null, 304);
  }
  if (coding !== 'identity') c.header('Content-Encoding', coding);
  const bytes = packedAs(file, coding);
  c.header('Content-Length', String(bytes.length));
  return c.body(new Uint8Array(bytes));
}

function codingOf(accepted: string): Coding {
  const names = accepted
    .toLowerCase()
    .split(',')
    .map((part) => part.trim())
    .filter((part) => !/;\s*q=0(\.0*)?$/.test(part))
    .map((part) => part.replace(/;.*$/, '').trim());
  return names.includes('br') ? 'br' : names.includes('gzip') ? 'gzip' : 'identity';
}

/** Good enough to be within a few per cent of the smallest, in tens of milliseconds. */
const BROTLI_QUALITY = 9;

function packedAs(file: PageFile, coding: Coding): Buffer {
  if (coding === 'identity') return file.bytes;
  const kept = file.packed.get(coding);
  if (kept !== undefined) return kept;
  const packed =
    coding === 'gzip'
      ? gzipSync(file.bytes, { level: 9 })
      : brotliCompressSync(file.bytes, {
          params: { [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY },
        });
  file.packed.set(coding, packed);
  return packed;
}

function filesUnder(root: string, inside = ''): string[] {
  const folder = join(root, inside);
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = inside === '' ? entry.name : `${inside}/${entry.name}`;
    if (entry.isDirectory()) return filesUnder(root, path);
    // Links could lead out of the folder; a built page has none.
    return entry.isFile() ? [path] : [];
  });
}
