import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A browser on disk and what its process needs around it. */
export interface InstalledBrowser {
  readonly executablePath: string;
  readonly env: Readonly<Record<string, string>>;
}

const root = fileURLToPath(new URL('..', import.meta.url));
const packageName = '@sparticuz/chromium';

/**
 * The browser that came with `npm ci`, unpacked once into node_modules/.cache with its libraries
 * and a typeface, so that a machine with neither browser nor fonts can run the journeys.
 *
 * @throws {Error} when this machine is not Linux x64, or the package cannot be unpacked
 */
export function npmBrowser(): InstalledBrowser {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error(`it is for linux x64 only; this is ${process.platform} ${process.arch}`);
  }
  const folder = join(root, 'node_modules/.cache/test-browser', installedVersion());
  if (!existsSync(folder)) unpackInto(folder);
  return {
    executablePath: join(folder, 'chromium'),
    env: {
      LD_LIBRARY_PATH: join(folder, 'al2023/lib'),
      FONTCONFIG_FILE: join(folder, 'fonts.conf'),
    },
  };
}

function installedVersion(): string {
  // The package does not export its package.json, so it is read beside the entry it does export.
  const entry = createRequire(import.meta.url).resolve('@sparticuz/chromium');
  const manifest = entry.slice(0, entry.indexOf(packageName) + packageName.length);
  return JSON.parse(readFileSync(join(manifest, 'package.json'), 'utf8')).version;
}

/**
 * The package unpacks into the system's temporary folder under fixed names and takes whatever it
 * finds there for finished. A process of its own with another temporary folder, and a rename at
 * the end, keep strangers' and half-written files out.
 */
function unpackInto(folder: string): void {
  const partial = `${folder}.partial-${process.pid}`;
  rmSync(partial, { recursive: true, force: true });
  mkdirSync(partial, { recursive: true });
  const script = `import chromium from '${packageName}'; await chromium.executablePath();`;
  const { status, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
    cwd: root,
    encoding: 'utf8',
    // The second name makes it unpack the libraries it brings along for machines that lack them.
    env: { ...process.env, TMPDIR: partial, AWS_LAMBDA_JS_RUNTIME: 'nodejs20.x' },
  });
  if (status !== 0) throw new Error(`${packageName} could not be unpacked: ${stderr}`);
  writeFileSync(join(partial, 'fonts.conf'), fontsConf(folder));
  renameSync(partial, folder);
}

/** The packaged one names folders of another kind of machine; without a font the browser dies. */
function fontsConf(folder: string): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${folder}/fonts</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir>${folder}/fonts-cache</cachedir>
</fontconfig>
`;
}
