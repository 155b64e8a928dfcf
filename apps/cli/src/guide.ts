/**
 * docs/cli.md holds commands and what they print. This runs each command and puts its output under
 * it, so that the guide cannot say what the program does not do.
 *
 * A command is a `sh` block of one line, `# exit N` behind it when it does not end with 0; a `text`
 * block right after it is its output.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { HOUSE } from './house.ts';
import { main } from './main.ts';
import { serveCommand } from './serve-command.ts';
import { SUMS } from './sum/sums.ts';

const BLOCK = /```sh\nnpx ladlework (.*)\n```\n(?:\n```text\n([\s\S]*?)```\n)?/g;
const SUM_TABLE = /\| sum \|.*\n(?:\|.*\n)+/;
const WITH_LOG = new Set(['serve', 'verify', 'backup', 'restore', 'export', 'import']);

export interface GuideStep {
  readonly command: string;
  readonly wantedExit: number;
  readonly exit: number;
  /** What stands under the command in the guide; undefined when nothing does. */
  readonly shown: string | undefined;
  /** What it prints now. */
  readonly printed: string;
}

/**
 * Runs every command of a guide, in order, on a log of its own.
 *
 * @param guide text of docs/cli.md
 * @returns each command, and the guide with the outputs of now
 */
export async function followGuide(guide: string): Promise<{ steps: GuideStep[]; text: string }> {
  const folder = await mkdtemp(join(tmpdir(), 'ladlework-guide-'));
  const steps: GuideStep[] = [];
  let text = '';
  let end = 0;
  try {
    for (const match of guide.matchAll(BLOCK)) {
      const [whole, line = '', shown] = match;
      const [command = '', exit = '0'] = line.split(/\s+# exit /);
      const step = { command, wantedExit: Number(exit), shown, ...(await run(command, folder)) };
      steps.push(step);
      const block = shown === undefined ? '' : `\n\`\`\`text\n${step.printed}\`\`\`\n`;
      text += `${guide.slice(end, match.index)}\`\`\`sh\nnpx ladlework ${line}\n\`\`\`\n${block}`;
      end = match.index + whole.length;
    }
  } finally {
    await rm(folder, { recursive: true });
  }
  return { steps, text: (text + guide.slice(end)).replace(SUM_TABLE, sumTable()) };
}

/** Arguments and results of every sum, as the guide tables them. */
export function sumTable(): string {
  const rows = SUMS.map((sum) => {
    const args = Object.entries(sum.arguments).map(([k, a]) => (a.optional ? `[${k}]` : k));
    const results = Object.keys(sum.results);
    return `| \`${sum.name}\` ${sum.what} | \`${args.join(' ')}\` | \`${results.join(' ')}\` |\n`;
  });
  return `| sum | arguments (optional in brackets) | results |\n|---|---|---|\n${rows.join('')}`;
}

async function run(command: string, folder: string): Promise<{ exit: number; printed: string }> {
  let printed = '';
  const output = {
    out: (text: string) => {
      printed += text;
    },
    err: (text: string) => {
      printed += text;
    },
  };
  const argv = command.split(' ').map((word) => inFolder(word, folder));
  const exit =
    argv[0] === 'serve'
      ? await serveCommand(
          output,
          { port: 0, host: '127.0.0.1', data: join(folder, 'data'), json: false },
          Promise.resolve(),
        )
      : await main(
          WITH_LOG.has(argv[0] ?? '') && !argv.includes('--data')
            ? [...argv, '--data', join(folder, 'data')]
            : argv,
          output,
        );
  return { exit, printed: inPlainWords(printed, folder) };
}

/** Files of the repository as they stand there, all others in the folder of this run. */
function inFolder(word: string, folder: string): string {
  if (word.startsWith('examples/')) return join(HOUSE.examples, word.slice('examples/'.length));
  if (word.startsWith('reference/')) return join(HOUSE.examples, '..', word);
  return /^(copies|moved|log\.jsonl)/.test(word) ? join(folder, word) : word;
}

/** Output as on the reader's machine: no folder of this run, no port and clock of this minute. */
function inPlainWords(printed: string, folder: string): string {
  return printed
    .replaceAll(`${folder}/`, '')
    .replaceAll(HOUSE.examples, 'examples')
    .replace(/127\.0\.0\.1:\d+/, '127.0.0.1:8620')
    .replace(/ladlework-\d{8}T\d{6}Z/, 'ladlework-20261125T060000Z')
    .replace(/^There is no built page in .*\n/m, '');
}
