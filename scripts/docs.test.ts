import { existsSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, root } from './source-scan.ts';

const documents = filesUnder('').filter((path) => path.endsWith('.md'));
const read = (path: string) => readFileSync(`${root}${path}`, 'utf8');
const { scripts } = JSON.parse(read('package.json'));

describe.each(documents)('%s', (document) => {
  const text = read(document);

  it('links to what is there', () => {
    const targets = [...text.matchAll(/\]\(([^)\s#]+)/g)].map((match) => match[1] ?? '');
    const broken = targets
      .filter((target) => !/^[a-z]+:/.test(target))
      .filter((target) => !existsSync(root + posix.join(posix.dirname(document), target)));
    expect(broken).toEqual([]);
  });

  it('names commands and files there are', () => {
    const npm = [...text.matchAll(/\bnpm (?:run )?(start|test|(?<=run )[\w:]+)/g)];
    const missing = npm.map((match) => match[1] ?? '').filter((name) => !(name in scripts));
    const files = [...text.matchAll(/(?<![\w/.-])(?:scripts|examples|e2e)\/[\w.-]+\.\w+/g)];
    const gone = files.map((match) => match[0]).filter((path) => !existsSync(root + path));
    expect([...missing, ...gone]).toEqual([]);
  });
});
