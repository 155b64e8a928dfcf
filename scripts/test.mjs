/**
 * Every check of the house in one run: `npm test` here, on a developer's machine and in CI alike.
 * It goes on after a failure so that one run shows them all, and its last line is the count
 * `N passed, N failed`: one for each static check, one for each test.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { stripVTControlCharacters } from 'node:util';
import { OUTCOME_FILE } from './count-reporter.mjs';
import { buildPage } from './page.mjs';
import { measureFirstView } from './page-size.mjs';

/** @typedef {import('./count-reporter.mjs').Outcome} Outcome */

const root = join(fileURLToPath(import.meta.url), '../..');
/** A check that hangs must become a failure that can be read, not a killed run that cannot. */
const LONGEST_CHECK_MS = 20 * 60_000;
const LONGEST_MESSAGE_LINES = 60;
const PAGE_BUDGET_KB = 250;

/** @type {Set<number>} process groups under way */
const groups = new Set();

/** @param {number} group */
function endGroup(group) {
  groups.delete(group);
  try {
    process.kill(-group, 'SIGKILL');
  } catch (error) {
    // ESRCH: all of them have ended by themselves, which is the usual case.
    if (/** @type {NodeJS.ErrnoException} */ (error).code !== 'ESRCH') throw error;
  }
}

for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
  process.once(signal, () => {
    for (const group of groups) endGroup(group);
    process.exit(1);
  });
}

/**
 * Runs a command in a process group of its own, so that whatever it leaves behind, a browser or a
 * server of a test that broke, ends with it and cannot keep its output open.
 *
 * @param {string} command  a command of node_modules/.bin
 * @param {string[]} args
 * @param {{live?: boolean, env?: Record<string, string>}} [options]  live: show its output while it runs
 * @returns {Promise<{code: number | null, output: string}>}
 */
function run(command, args, { live = false, env = {} } = {}) {
  return new Promise((resolve) => {
    const child = spawn(join(root, 'node_modules/.bin', command), args, {
      cwd: root,
      env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0', ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
      detached: true,
    });
    const group = child.pid;
    if (group !== undefined) groups.add(group);
    const endAll = () => group !== undefined && endGroup(group);
    let output = '';
    const take = (/** @type {Buffer | string} */ data) => {
      output += data;
      if (live) process.stdout.write(data);
    };
    const alarm = setTimeout(() => {
      take(`\n${command} was ended after ${LONGEST_CHECK_MS / 60_000} minutes\n`);
      endAll();
    }, LONGEST_CHECK_MS);
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    child.on('exit', endAll);
    child.on('error', (error) => take(error.message));
    child.on('close', (code) => {
      clearTimeout(alarm);
      resolve({ code, output });
    });
  });
}

/**
 * @param {string} command
 * @param {string[]} args
 * @returns {() => Promise<Outcome>}
 */
const tool = (command, args) => async () => {
  const { code, output } = await run(command, args);
  if (code === 0) return { passed: 1, failures: [] };
  return { passed: 0, failures: [{ name: [command, ...args].join(' '), message: output }] };
};

/**
 * @param {string[]} args  that say which tests
 * @returns {() => Promise<Outcome>}
 */
const tests = (args) => async () => {
  const file = join(root, '.build/outcome.json');
  mkdirSync(join(root, '.build'), { recursive: true });
  rmSync(file, { force: true });
  const reporters = ['--reporter=default', '--reporter=./scripts/count-reporter.mjs'];
  const { code } = await run('vitest', ['run', '--allowOnly=false', ...reporters, ...args], {
    live: true,
    env: { [OUTCOME_FILE]: file },
  });
  if (!existsSync(file)) throw new Error(`vitest ended with ${code ?? 'a signal'}; see above`);
  /** @type {Outcome} */
  const outcome = JSON.parse(readFileSync(file, 'utf8'));
  if (outcome.failures.length > 0) return outcome;
  if (code !== 0) throw new Error(`vitest ended with ${code ?? 'a signal'}; see above`);
  if (outcome.passed === 0) throw new Error('no test ran');
  return outcome;
};

/** @returns {Promise<Outcome>} */
async function pageBuilds() {
  const { ok, output } = await buildPage();
  if (ok) return { passed: 1, failures: [] };
  return { passed: 0, failures: [{ name: 'vite build apps/web', message: output }] };
}

/** @returns {Promise<Outcome>} */
async function pageIsSmall() {
  const files = measureFirstView(join(root, 'apps/web/dist'));
  const totalKB = files.reduce((sum, file) => sum + file.bytes, 0) / 1000;
  const list = files.map(
    (file) => `  ${(file.bytes / 1000).toFixed(1).padStart(7)} kB  ${file.path}`,
  );
  const summary = `${totalKB.toFixed(1)} of ${PAGE_BUDGET_KB} kB compressed before the engine worker`;
  console.log(`  ${summary}`);
  if (totalKB <= PAGE_BUDGET_KB) return { passed: 1, failures: [] };
  return { passed: 0, failures: [{ name: summary, message: list.join('\n') }] };
}

/** @type {[title: string, check: () => Promise<Outcome>][]} */
const checks = [
  ['Types', tool('tsc', ['-b'])],
  [
    'Lint and format',
    tool('biome', ['ci', '--colors=off', '--diagnostic-level=warn', '--error-on-warnings', '.']),
  ],
  ['Unused code', tool('knip', ['--no-progress'])],
  ['Unit, property, reference and server tests', tests([])],
  ['Page build', pageBuilds],
  ['Page size', pageIsSmall],
  ['Browser journeys', tests(['--config', 'e2e/vitest.config.ts'])],
];

/** @param {string} message */
function shorten(message) {
  const lines = stripVTControlCharacters(message).trimEnd().split('\n');
  if (lines.length <= LONGEST_MESSAGE_LINES) return lines;
  const left = lines.length - LONGEST_MESSAGE_LINES;
  return [...lines.slice(0, LONGEST_MESSAGE_LINES), `... and ${left} more lines`];
}

const seconds = (/** @type {number} */ since) =>
  `${((performance.now() - since) / 1000).toFixed(1)} s`;

let passed = 0;
/** @type {{title: string, name: string, message: string}[]} */
const failed = [];
const start = performance.now();
for (const [title, check] of checks) {
  const checkStart = performance.now();
  console.log(`\n== ${title}`);
  /** @type {Outcome} */
  let outcome;
  try {
    outcome = await check();
  } catch (error) {
    const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
    outcome = { passed: 0, failures: [{ name: title, message }] };
  }
  passed += outcome.passed;
  for (const failure of outcome.failures) failed.push({ title, ...failure });
  const word = outcome.failures.length === 0 ? 'ok' : `${outcome.failures.length} FAILED`;
  console.log(`== ${title}: ${word}, ${outcome.passed} passed, ${seconds(checkStart)}`);
}

for (const { title, name, message } of failed) {
  console.log(`\nFAILED ${title}: ${name}`);
  for (const line of shorten(message)) console.log(`    ${line}`);
}
console.log(`\nAll checks in ${seconds(start)}`);
console.log(`${passed} passed, ${failed.length} failed`);
process.exitCode = failed.length > 0 || passed === 0 ? 1 : 0;
