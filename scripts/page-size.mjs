import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { gzipSync } from 'node:zlib';
import { parseSync } from 'vite';

/**
 * @typedef {object} MeasuredFile
 * @property {string} path   within the built page
 * @property {number} bytes  compressed, as it travels
 */

/** Formats that are compressed already; gzip would only add a header. */
const PACKED = /\.(woff2|png|jpe?g|webp|avif)$/;

/**
 * Files a browser fetches to show the first view of a built page: what index.html names, what
 * those scripts import statically, and what those style sheets use. Workers and scripts imported
 * later come after the first view and are left out.
 *
 * @param {string} dist  folder of the built page
 * @returns {MeasuredFile[]}
 * @throws {Error} when index.html, or a file it leads to, is missing
 */
export function measureFirstView(dist) {
  /** @type {Map<string, number>} */
  const found = new Map();
  const pending = ['index.html'];
  for (let path = pending.pop(); path !== undefined; path = pending.pop()) {
    if (found.has(path)) continue;
    const file = join(dist, path);
    if (!existsSync(file)) throw new Error(`the built page leads to ${path}, which is not there`);
    const content = readFileSync(file);
    found.set(path, PACKED.test(path) ? content.length : gzipSync(content, { level: 9 }).length);
    for (const link of linksOf(path, content)) pending.push(inside(dist, path, link));
  }
  return [...found].map(([path, bytes]) => ({ path, bytes })).sort((a, b) => b.bytes - a.bytes);
}

/**
 * @param {string} dist
 * @param {string} from
 * @param {string} link
 */
function inside(dist, from, link) {
  const clean = link.replace(/[?#].*$/, '');
  if (clean.startsWith('/')) return clean.slice(1);
  return relative(dist, join(dist, dirname(from), clean));
}

/**
 * @param {string} path
 * @param {Buffer} content
 * @returns {string[]}
 */
function linksOf(path, content) {
  if (path.endsWith('.html')) return linksOfHtml(content.toString());
  if (path.endsWith('.js')) return linksOfScript(path, content.toString());
  if (path.endsWith('.css')) return linksOfStyle(content.toString());
  return [];
}

/** @param {string} html */
function linksOfHtml(html) {
  return [...html.matchAll(/<(?:script|link)\b[^>]*?\b(?:src|href)="([^"]+)"/g)].map(
    (match) => match[1] ?? '',
  );
}

/**
 * @param {string} path
 * @param {string} script
 */
function linksOfScript(path, script) {
  const { module, errors } = parseSync(path, script);
  if (errors.length > 0) throw new Error(`${path} cannot be read: ${errors[0]?.message}`);
  const exports = module.staticExports.flatMap((statement) =>
    statement.entries.flatMap((entry) => entry.moduleRequest?.value ?? []),
  );
  return [...module.staticImports.map((statement) => statement.moduleRequest.value), ...exports];
}

/**
 * A font face whose range leaves out plain Latin letters is fetched only when a text needs it.
 *
 * @param {string} css
 */
function linksOfStyle(css) {
  const faces = /@font-face\s*\{[^}]*\}/g;
  const needed = css.replaceAll(faces, (face) => (coversLatin(face) ? face : ''));
  return [...needed.matchAll(/url\(\s*["']?([^"')]+)["']?\s*\)/g)]
    .map((match) => match[1] ?? '')
    .filter((url) => !url.startsWith('data:'));
}

/** @param {string} face */
function coversLatin(face) {
  const ranges = /unicode-range\s*:\s*([^;}]+)/i.exec(face)?.[1];
  if (ranges === undefined) return true;
  const letter = 0x61;
  return ranges.split(',').some((range) => {
    const [from = '', to = from] = range.trim().replace(/^u\+/i, '').split('-');
    const low = Number.parseInt(from.replaceAll('?', '0'), 16);
    const high = Number.parseInt(to.replaceAll('?', 'f'), 16);
    return low <= letter && letter <= high;
  });
}
