import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import house from '../../../package.json' with { type: 'json' };
import { planJsonSchema } from './json-schema.ts';
import { openApiDocument } from './openapi.ts';

const published = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../docs/schema/${name}`, import.meta.url), 'utf8'));

it('the published schemas are current (else run: npx tsx scripts/write-schemas.ts)', () => {
  expect(published('plan.schema.json')).toEqual(JSON.parse(JSON.stringify(planJsonSchema())));
  expect(published('openapi.json')).toEqual(
    JSON.parse(JSON.stringify(openApiDocument(house.version))),
  );
});

it('every reference in the API description leads somewhere', () => {
  const document = openApiDocument('0') as { components: { schemas: Record<string, unknown> } };
  const refs = JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g);
  const names = new Set([...refs].map((m) => m[1]));
  expect(names.size).toBeGreaterThan(10);
  for (const name of names) {
    const [, key] = /^#\/components\/schemas\/(\w+)$/.exec(name ?? '') ?? [];
    expect(Object.keys(document.components.schemas)).toContain(key);
  }
});

it('the schema of the brew file carries units and limits', () => {
  const text = JSON.stringify(planJsonSchema());
  expect(text).toContain('"minimum":1,"maximum":20000');
  expect(text).toContain('1 to 20000 L, or text such as');
});
