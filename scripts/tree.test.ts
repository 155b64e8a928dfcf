import { readFileSync, statSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { filesUnder, root } from './source-scan.ts';

/** Things that work on the machine they were written on and nowhere else, or that nobody meant. */
const NEVER: [what: string, pattern: RegExp][] = [
  ['a folder of one machine', /(?<![\w.$}/-])\/(?:work|root|home|Users|mnt)\/[\w.-]/],
  ['a private key', /-----BEGIN [A-Z ]*PRIVATE KEY-----/],
  ['the mark of a merge left open', /^(?:<{7} |>{7} |={7}$)/m],
  ['an address of a package registry', /https?:\/\/registry\.[\w.-]+/],
];

/** The largest file a clone should carry; a picture of a page is well below it. */
const LARGEST_BYTES = 2_000_000;

const files = filesUnder('');
const isText = (content: Buffer) => !content.includes(0);

describe('the tree', () => {
  it.each(NEVER)('has nowhere %s', (_, pattern) => {
    const faults = files.flatMap((path) => {
      const content = readFileSync(`${root}${path}`);
      const found = isText(content) && pattern.exec(content.toString());
      return found ? [`${path}: ${found[0]}`] : [];
    });
    expect(faults).toEqual([]);
  });

  it('knows such things when it sees them', () => {
    const [folder, key, merge, registry] = NEVER.map(([, pattern]) => pattern);
    expect(`open('${['', 'home', 'brewer', 'x'].join('/')}')`).toMatch(folder ?? '');
    expect('apps/work/x and ./home/x and https://a.org/root/x').not.toMatch(folder ?? '');
    expect(`${'-'.repeat(5)}BEGIN EC PRIVATE KEY${'-'.repeat(5)}`).toMatch(key ?? '');
    expect(`a\n${'<'.repeat(7)} ours\n`).toMatch(merge ?? '');
    expect(`"resolved": "https:${'//'}registry.example.org/a.tgz"`).toMatch(registry ?? '');
  });

  it('carries no file too large for a clone', () => {
    expect(files.filter((path) => statSync(`${root}${path}`).size > LARGEST_BYTES)).toEqual([]);
  });
});
