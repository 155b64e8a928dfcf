import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterEach, describe, expect, it } from 'vitest';

/** The program as it is started, in a process of its own. */
const BIN = fileURLToPath(new URL('../bin/ladlework.mjs', import.meta.url));
const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const run = promisify(execFile);
const ladlework = (...argv: string[]) => run(process.execPath, [BIN, ...argv], { cwd: ROOT });

describe('bin/ladlework.mjs', () => {
  it('is what the package calls ladlework', async () => {
    const own = JSON.parse(await readFile(join(ROOT, 'apps/cli/package.json'), 'utf8'));
    expect(join(ROOT, 'apps/cli', own.bin.ladlework)).toBe(BIN);
  });

  it('does a sum', async () => {
    const { stdout, stderr } = await ladlework('sum', 'boiling-point', 'altitude_m=1609', '--json');
    expect(stderr).toBe('');
    // US Standard Atmosphere 1976 and IAPWS-IF97: 94.621 °C.
    expect(JSON.parse(stdout).t_C).toBeCloseTo(94.621, 3);
  });

  it('hands on the exit codes, and the reason on standard error', async () => {
    await expect(ladlework('sum', 'water', 't=900')).rejects.toMatchObject({
      code: 2,
      stdout: '',
      stderr: expect.stringContaining('t: "900" is outside the allowed range'),
    });
    await expect(ladlework('plan', 'examples/cannot.json', '--draws', '50')).rejects.toMatchObject({
      code: 3,
    });
    await expect(ladlework('brew')).rejects.toMatchObject({ code: 2 });
  });

  it('writes a long answer to the end of a pipe', async () => {
    const { stdout } = await ladlework('trace', 'reference/data/mash-traces.json', '--json');
    expect(JSON.parse(stdout).traces).toHaveLength(2);
  });
});

describe('ladlework serve', () => {
  let folder: string | undefined;
  let child: ChildProcess | undefined;
  afterEach(async () => {
    if (child?.exitCode === null && child.signalCode === null) {
      child.kill('SIGKILL');
      await once(child, 'exit');
    }
    if (folder !== undefined) await rm(folder, { recursive: true });
  });

  it('serves the invented brewery and ends on a signal with the log whole', async () => {
    folder = await mkdtemp(join(tmpdir(), 'ladlework-serve-'));
    child = spawn(process.execPath, [BIN, 'serve', '--port', '0', '--json', '--data', folder], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let printed = '';
    for await (const chunk of child.stdout ?? []) {
      printed += chunk;
      if (printed.trimEnd().endsWith('}')) break;
    }
    const { url } = JSON.parse(printed) as { url: string };
    const kits = await (await fetch(`${url}/api/kits`)).json();
    expect(JSON.stringify(kits)).toContain('Hollin Weir');
    const health = (await (await fetch(`${url}/api/health`)).json()) as { events: number };
    expect(health.events).toBeGreaterThan(10);
    const exited = once(child, 'exit');
    child.kill('SIGTERM');
    expect(await exited).toEqual([0, null]);
    const { stdout } = await ladlework('verify', '--data', folder);
    expect(stdout).toContain(`is whole: ${health.events} events`);
  });
});
