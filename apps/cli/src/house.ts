/** Where things stand in the house this program came with. */
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const inHouse = (path: string): string =>
  fileURLToPath(new URL(`../../../${path}`, import.meta.url));

export const HOUSE = {
  data: inHouse('data'),
  page: inHouse('apps/web/dist'),
  examples: inHouse('examples'),
} as const;

/** The file of the log in a data folder. */
export function logFile(dataFolder: string): string {
  return join(resolve(dataFolder), 'ladlework.sqlite');
}
