/** Publishes the schemas under docs/schema. Run after changing packages/contract. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openApiDocument, planJsonSchema } from '@ladlework/contract';
import house from '../package.json' with { type: 'json' };

const folder = join(fileURLToPath(import.meta.url), '../../docs/schema');
mkdirSync(folder, { recursive: true });
const write = (name: string, content: object) =>
  writeFileSync(join(folder, name), `${JSON.stringify(content, null, 2)}\n`);
write('plan.schema.json', planJsonSchema());
write('openapi.json', openApiDocument(house.version));
