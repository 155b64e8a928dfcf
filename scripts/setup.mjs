/**
 * Makes a fresh clone able to run: the Node version, the packages of package-lock.json, and the
 * compiled SQLite binding. Silent and quick when nothing is to do, so that every command of the
 * house may begin with it. Depends on nothing but Node, because nothing else is there yet.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const OLDEST_NODE = [20, 19];
const NATIVE_PACKAGES = ['better-sqlite3', 'esbuild'];
/** What node-gyp needs where no prebuilt binding can be had: the command, and Debian's package. */
const BUILD_TOOLS = { python3: 'python3', make: 'make', 'g++': 'g++' };

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/**
 * Ends the set-up with a sentence for the person at the keyboard.
 *
 * @param {string} message
 * @returns {never}
 */
function giveUp(message) {
  console.error(`\nSet-up stopped: ${message}`);
  process.exit(1);
}

function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const [oldestMajor = 0, oldestMinor = 0] = OLDEST_NODE;
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return;
  giveUp(
    `this is Node ${process.versions.node}; Ladlework needs Node ${OLDEST_NODE.join('.')} or newer. ` +
      'Install it and run the command again.',
  );
}

/**
 * @param {string} file
 * @returns {Record<string, {version?: string, integrity?: string, optional?: boolean}> | undefined}
 */
function lockedPackages(file) {
  if (!existsSync(file)) return undefined;
  return JSON.parse(readFileSync(file, 'utf8')).packages;
}

/**
 * npm writes what it really installed beside the packages. Comparing that with the lock file needs
 * no stamp of our own, so it also notices an installation made or changed by hand.
 */
function packagesMatchLock() {
  const wanted = lockedPackages(join(root, 'package-lock.json'));
  if (!wanted) giveUp('package-lock.json is missing; this is not a whole copy of the repository.');
  const installed = lockedPackages(join(root, 'node_modules/.package-lock.json'));
  if (!installed) return false;
  const isPackage = (/** @type {string} */ path) => path.includes('node_modules/');
  const present = Object.entries(wanted).every(([path, entry]) => {
    if (!isPackage(path)) return true;
    const found = installed[path];
    // Optional packages are binaries for one platform each; npm leaves out those of the others.
    if (!found) return entry.optional === true;
    return found.version === entry.version && found.integrity === entry.integrity;
  });
  return present && Object.keys(installed).every((path) => !isPackage(path) || path in wanted);
}

/**
 * Runs npm as the npm that called us, so that `npm test` under a chosen npm stays with it.
 *
 * @param {string[]} args
 * @param {{quiet: boolean}} options
 */
function npm(args, { quiet }) {
  const script = process.env.npm_execpath;
  const [command, first] = script?.endsWith('.js') ? [process.execPath, [script]] : ['npm', []];
  const headers = join(dirname(process.execPath), '..');
  // A quiet caller (npm --silent test) must not hide why an installation failed.
  /** @type {NodeJS.ProcessEnv} */
  const env = { ...process.env, npm_config_loglevel: 'notice' };
  // node-gyp would download Node's headers; most installations of Node already carry them.
  if (!env.npm_config_nodedir && existsSync(join(headers, 'include/node/node.h'))) {
    env.npm_config_nodedir = headers;
  }
  return spawnSync(command, [...first, ...args], {
    cwd: root,
    env,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    stdio: quiet ? ['ignore', 'pipe', 'pipe'] : ['ignore', 'inherit', 'inherit'],
  });
}

/** Opens a database in memory: only that shows a binding left over from another Node version. */
function sqliteWorks() {
  const binding = join(root, 'node_modules/better-sqlite3/build/Release/better_sqlite3.node');
  if (!existsSync(binding)) return false;
  try {
    const Database = createRequire(import.meta.url)('better-sqlite3');
    new Database(':memory:').close();
    return true;
  } catch (error) {
    console.error(`The SQLite binding does not load (${error}); building it anew.`);
    return false;
  }
}

/** @param {string} command */
function onPath(command) {
  return (process.env.PATH ?? '').split(':').some((folder) => existsSync(join(folder, command)));
}

/** @param {string[]} packages Debian package names */
function installTools(packages) {
  const byHand = `install ${packages.join(', ')} (on Debian, as root: apt-get install ${packages.join(' ')}) and run the command again.`;
  const why = 'the SQLite binding must be compiled here';
  if (!onPath('apt-get')) giveUp(`${why}; ${byHand}`);
  const isRoot = process.getuid?.() === 0;
  const maySudo =
    !isRoot &&
    onPath('sudo') &&
    spawnSync('sudo', ['-n', 'true'], { stdio: 'ignore' }).status === 0;
  if (!isRoot && !maySudo)
    giveUp(`${why}, and this user may not install the tools for it; ${byHand}`);

  console.log(`Installing ${packages.join(', ')} with apt-get, to compile the SQLite binding ...`);
  const apt = (/** @type {string[]} */ ...args) =>
    spawnSync(
      isRoot ? 'apt-get' : 'sudo',
      [...(isRoot ? [] : ['-n', 'DEBIAN_FRONTEND=noninteractive', 'apt-get']), '-q', ...args],
      {
        encoding: 'utf8',
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
        stdio: ['ignore', 'pipe', 'pipe'],
      },
    );
  // A stale package list is no failure by itself: the installation below is what must succeed.
  const update = apt('update');
  const install = apt('install', '-y', '--no-install-recommends', ...packages);
  if (install.status !== 0) {
    console.error(`${update.stderr}${install.stdout}${install.stderr}`);
    giveUp(`apt-get could not install the tools; ${byHand}`);
  }
}

function buildSqlite() {
  const missing = Object.entries(BUILD_TOOLS).filter(([command]) => !onPath(command));
  console.log('Preparing the SQLite binding (compiling it takes about a minute) ...');
  const first = npm(['rebuild', ...NATIVE_PACKAGES], { quiet: true });
  if (first.status === 0 && sqliteWorks()) return;
  let last = first;
  if (missing.length > 0) {
    installTools(missing.map(([, debianName]) => debianName));
    last = npm(['rebuild', ...NATIVE_PACKAGES], { quiet: true });
    if (last.status === 0 && sqliteWorks()) return;
  }
  console.error(`${last.stdout ?? ''}${last.stderr ?? ''}${last.error ?? ''}`);
  giveUp('the SQLite binding could not be built; the messages above say why.');
}

checkNode();
if (!packagesMatchLock()) {
  console.log('Installing the packages of package-lock.json ...');
  // Install scripts wait for buildSqlite, which can fetch a compiler first where one is missing.
  const ci = npm(['ci', '--ignore-scripts', '--no-fund', '--no-audit', '--no-update-notifier'], {
    quiet: false,
  });
  if (ci.error) giveUp(`npm could not be started: ${ci.error.message}`);
  if (ci.status !== 0) giveUp('npm ci failed; the messages above say why.');
}
if (!sqliteWorks()) buildSqlite();
