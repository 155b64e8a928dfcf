/** A real server on a free port, with its own folder, for tests. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type RunningServer, type ServerOptions, startServer } from './server.ts';

export interface TestServer extends RunningServer {
  readonly folder: string;
  /** Lines written for the operator. */
  readonly lines: string[];
  /** Closes, and starts again on the same log. */
  again(options?: Partial<ServerOptions>): Promise<TestServer>;
  /** Closes and removes the folder. */
  end(): Promise<void>;
}

export async function testServer(
  options: Partial<ServerOptions> = {},
  folder = mkdtempSync(join(tmpdir(), 'ladlework-server-')),
): Promise<TestServer> {
  const lines: string[] = [];
  const started = await startServer({
    dbPath: join(folder, 'log.sqlite'),
    webRoot: join(folder, 'no-page'),
    log: (line) => lines.push(line),
    ...options,
  });
  if (!started.ok) throw new Error(started.message);
  return {
    ...started,
    folder,
    lines,
    again: async (more) => {
      await started.close();
      return testServer({ ...options, ...more }, folder);
    },
    end: async () => {
      await started.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Posts JSON and gives the status and the parsed answer. */
export async function post(
  url: string,
  body: unknown,
  headers: Readonly<Record<string, string>> = {},
): Promise<{ status: number; json: unknown }> {
  const response = await fetch(url, {
    method: 'POST',
    headers: { 'content-type': 'application/json', ...headers },
    body: typeof body === 'string' ? body : JSON.stringify(body),
  });
  return { status: response.status, json: await response.json() };
}
