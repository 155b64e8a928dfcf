/** `serve`: the server with the page, until it is told to end. */
import { dirname, join } from 'node:path';
import { announcement, readMqttSettings, startServer } from '@ladlework/server';
import { HOUSE, logFile } from './house.ts';
import { EXIT, type ExitCode, type Output, writeJson } from './output.ts';

export interface ServeOptions {
  readonly port: number;
  readonly host: string;
  readonly data: string;
  /** This machine must be paired as well. */
  readonly pairAll?: boolean;
  readonly json: boolean;
}

/** What a person can do about a server that did not start. */
const ADVICE: Readonly<Record<string, string>> = {
  'port-in-use': 'Give another with --port, or 0 for any free one.',
  'no-permission': 'Give a port above 1023 with --port.',
  'bad-address': 'Give an address of this machine with --host.',
};

/**
 * Serves until `ended` resolves.
 *
 * @returns 0 when it ended as told, 2 when it could not start
 */
export async function serveCommand(
  output: Output,
  options: ServeOptions,
  ended: Promise<unknown>,
): Promise<ExitCode> {
  const dbPath = logFile(options.data);
  const mqtt = readMqttSettings(join(dirname(dbPath), 'mqtt.json'), process.env);
  if (!mqtt.ok) output.err(`${mqtt.message}\n`);
  const server = await startServer({
    dbPath,
    ...(mqtt.ok && { mqtt: mqtt.settings }),
    webRoot: HOUSE.page,
    examplesRoot: HOUSE.examples,
    port: options.port,
    host: options.host,
    pairAll: options.pairAll ?? false,
    log: (line) => output.err(`${line}\n`),
  });
  if (!server.ok) {
    output.err(`${[server.message, ADVICE[server.code]].filter(Boolean).join(' ')}\n`);
    return EXIT.badInput;
  }
  for (const problem of server.problems) output.err(`${problem}\n`);
  const { url, pairing } = server;
  if (options.json) writeJson(output, { url, data: options.data, ...(pairing && { pairing }) });
  else for (const line of announcement(server, options.data)) output.out(`${line}\n`);
  await ended;
  await server.close();
  return EXIT.ok;
}
