import { readFileSync } from 'node:fs';
import { MASH_PRIORS, RECOMMENDED_PARAMETERS } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import { filesUnder, root } from './source-scan.ts';

const read = (path: string) => readFileSync(`${root}${path}`, 'utf8');

/** Pages of docs/science that code points to, each with the words that follow its name. */
function mentions(): [where: string, page: string, after: string][] {
  return ['packages', 'apps', 'bench', 'scripts'].flatMap(filesUnder).flatMap((path) => {
    if (!/\.tsx?$/.test(path) || path.endsWith('science-docs.test.ts')) return [];
    // A comment may break between the page and its section.
    const text = read(path).replaceAll(/\n\s*(?:\*|\/\/) ?/g, ' ');
    const found = text.matchAll(/docs\/science\/([\w-]+\.md)((?:, .{0,80})?)/g);
    return [...found].map((match): [string, string, string] => [path, match[1]!, match[2]!]);
  });
}

describe('docs/science', () => {
  const all = mentions();

  it('has every page the code points to', () => {
    const pages = filesUnder('docs/science').map((path) => path.replace('docs/science/', ''));
    expect(all.length).toBeGreaterThan(20);
    expect(all.filter(([, page]) => !pages.includes(page))).toEqual([]);
  });

  it('has every section of the mash the code names', () => {
    const headings = [...read('docs/science/mash.md').matchAll(/^## (.+)$/gm)].map(([, h]) => h!);
    const lost = all.filter(([, page, after]) => {
      const words = /^, (?:section )?([A-Z].*)/.exec(after)?.[1];
      return (
        page === 'mash.md' && words !== undefined && !headings.some((h) => words.startsWith(h))
      );
    });
    expect(lost).toEqual([]);
  });

  it('gives the mash parameters and their spreads as the code has them', () => {
    const rows = [
      ...read('docs/science/mash.md').matchAll(
        /^\| (\w+) \| ([\d.]+) \| [^|]+ \| (ln|abs|s|-) ?([\d.]*) \|/gm,
      ),
    ];
    expect(rows.length).toBeGreaterThan(45);
    for (const [, name, value, kind, sd] of rows) {
      const code = RECOMMENDED_PARAMETERS[name as keyof typeof RECOMMENDED_PARAMETERS];
      expect(Math.abs(Number(value) / code - 1), name).toBeLessThan(5e-6);
      const prior = MASH_PRIORS[name as keyof typeof MASH_PRIORS];
      if (kind === 'ln' || kind === 'abs')
        expect(prior, name).toMatchObject({ kind, sd: Number(sd) });
      else expect(prior, name).toBeUndefined();
    }
    const named = new Set(rows.map(([, name]) => name));
    expect(Object.keys(MASH_PRIORS).filter((name) => !named.has(name))).toEqual([]);
  });
});
