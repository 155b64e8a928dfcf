/** Writes the outputs of now into docs/cli.md: `npx tsx apps/cli/src/write-guide.ts`. */
import { readFile, writeFile } from 'node:fs/promises';
import { followGuide } from './guide.ts';

const guide = new URL('../../../docs/cli.md', import.meta.url);
const { steps, text } = await followGuide(await readFile(guide, 'utf8'));
await writeFile(guide, text);
console.log(`docs/cli.md: ${steps.length} commands.`);
