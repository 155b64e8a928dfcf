/** The published schemas, made from those that do the checking. */
import { type ConversionConfig, toJsonSchema, toJsonSchemaDefs } from '@valibot/to-json-schema';
import { type GenericSchema, union } from 'valibot';
import { BrewsFileSchema, PlanDocumentSchema } from './brew-file.ts';

/** Limits that JSON Schema cannot say are in the description beside them. */
const CONFIG: Omit<ConversionConfig, 'definitions'> = {
  target: 'draft-2020-12',
  typeMode: 'input',
  ignoreActions: ['check', 'raw_transform'],
};

/** JSON Schema of the brew file. */
export function planJsonSchema(): object {
  return {
    ...toJsonSchema(union([PlanDocumentSchema, BrewsFileSchema]), CONFIG),
    title: 'Ladlework brew file',
    description:
      'One kit, one beer, one mash, one day; or one kit and the brews of one day. Quantities as SI numbers or text with units.',
  };
}

/** Schemas by name, for the API description. */
export function schemaDefinitions(schemas: Readonly<Record<string, GenericSchema>>): object {
  return toJsonSchemaDefs(schemas, {
    ...CONFIG,
    overrideRef: ({ referenceId }) => `#/components/schemas/${referenceId}`,
  });
}
