import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OUTCOME_FILE, type Outcome } from './count-reporter.mjs';
import { root } from './source-scan.ts';

// Inside the repository, so that the made-up tests find vitest.
const folder = `${root}.build/count-reporter-test/`;

const CASES = {
  'good.test.ts': `it('holds', () => {}); describe('a', () => it('holds too', () => {}))`,
  'bad.test.ts': `it('breaks', () => expect({ litres: 80 }).toEqual({ litres: 81 }))`,
  'left.test.ts': `it.skip('is skipped', () => {}); it.todo('is to be written')`,
  'unloadable.test.ts': `import './gone.ts'`,
  'hook.test.ts': `describe('b', () => { beforeAll(() => { throw new Error('no tun') }); it('waits', () => {}) })`,
  'stray.test.ts': `it('leaves a promise', () => { Promise.reject(new Error('stray')) })`,
};

let outcome: Outcome;

beforeAll(() => {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const globals = `import { beforeAll, describe, expect, it } from 'vitest';\n`;
  for (const [name, code] of Object.entries(CASES)) writeFileSync(folder + name, globals + code);
  writeFileSync(`${folder}vitest.config.ts`, 'export default {}');
  const file = `${folder}outcome.json`;
  const args = ['run', '--root', folder, `--reporter=${root}scripts/count-reporter.mjs`];
  spawnSync(`${root}node_modules/.bin/vitest`, args, {
    env: { ...process.env, [OUTCOME_FILE]: file },
    stdio: 'ignore',
  });
  outcome = JSON.parse(readFileSync(file, 'utf8'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('counting a run', () => {
  it('counts what passed', () => {
    expect(outcome.passed).toBe(3);
  });

  it('counts everything else as failed, by name', () => {
    expect(outcome.failures.map((failure) => failure.name).sort()).toEqual([
      'bad.test.ts > breaks',
      'hook.test.ts > b',
      'hook.test.ts > b > waits',
      'left.test.ts > is skipped',
      'left.test.ts > is to be written',
      'outside every test',
      'unloadable.test.ts',
    ]);
  });

  it.each([
    ['bad.test.ts > breaks', /"litres": 81[\s\S]*bad\.test\.ts:2/],
    ['hook.test.ts > b', /no tun/],
    ['left.test.ts > is skipped', /did not run \(skip\)/],
    ['unloadable.test.ts', /gone\.ts/],
    ['outside every test', /stray/],
  ])('says why %s failed', (name, why) => {
    expect(outcome.failures.find((failure) => failure.name === name)?.message).toMatch(why);
  });
});
