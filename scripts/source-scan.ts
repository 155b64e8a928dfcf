import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseSync } from 'vite';

/** Folder of the repository, with a slash at the end. */
export const root = fileURLToPath(new URL('..', import.meta.url));

/** Folders that are made, fetched or private to a machine; the same as in .gitignore. */
const NOT_OURS = new Set(['node_modules', '.git', '.build', 'dist', '.shots']);
/** Where a brewery started from this folder keeps its log. */
const HOUSE_DATA = 'data';

/**
 * Every file of the repository under a folder.
 *
 * @param folder  relative to the root; '' for all of it
 * @returns paths relative to the root
 */
export function filesUnder(folder: string): string[] {
  return readdirSync(`${root}${folder}`, { withFileTypes: true }).flatMap((entry) => {
    const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
    if (NOT_OURS.has(entry.name) || path === HOUSE_DATA) return [];
    return entry.isDirectory() ? filesUnder(path) : [path];
  });
}

/** What one source file reaches for beyond itself. */
export interface SourceScan {
  /** Specifiers of imports, re-exports and dynamic imports, types included. */
  readonly imports: readonly string[];
  /** Names used as values though the file declares none of them, as `Date` or `Math.random`. */
  readonly impure: readonly string[];
  /** Every piece of text in the code. */
  readonly texts: readonly string[];
}

/**
 * Values whose answer depends on when, where or how often they are asked, and that a room without
 * DOM and Node types can still reach: what the language brings, and what a cast could smuggle in.
 */
const IMPURE_NAMES = new Set(['Date', 'performance', 'process', 'globalThis', 'crypto']);

type Node = { readonly type: string } & Readonly<Record<string, unknown>>;

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/**
 * @param name  file name; its ending says which language to expect
 * @throws {Error} when the file cannot be parsed
 */
export function scanSource(name: string, code: string): SourceScan {
  const { program, errors } = parseSync(name, code);
  if (errors[0]) throw new Error(`${name}: ${errors[0].message}`);
  const imports: string[] = [];
  const impure: string[] = [];
  const texts: string[] = [];

  const visit = (node: Node): void => {
    // Date.UTC only counts; every other use of Date asks a clock or the zone of the machine.
    if (isMember(node, 'Date', 'UTC')) return;
    const source = node.source;
    if (isNode(source) && typeof source.value === 'string') imports.push(source.value);
    if (node.type === 'Literal' && typeof node.value === 'string') texts.push(node.value);
    if (node.type === 'TemplateElement') texts.push((node.value as { raw: string }).raw);
    if (node.type === 'Identifier' && IMPURE_NAMES.has(node.name as string)) {
      impure.push(node.name as string);
    }
    if (isMember(node, 'Math', 'random')) impure.push('Math.random');
    for (const [key, child] of Object.entries(node)) {
      if (isNameOnly(node, key)) continue;
      for (const each of Array.isArray(child) ? child : [child]) if (isNode(each)) visit(each);
    }
  };
  visit(program as unknown as Node);
  return { imports, impure, texts };
}

const TYPE_NAMES = new Map([
  ['TSTypeReference', 'typeName'],
  ['TSPropertySignature', 'key'],
  ['TSMethodSignature', 'key'],
]);
const VALUE_NAMES = new Map([
  ['MemberExpression', 'property'],
  ['Property', 'key'],
  ['PropertyDefinition', 'key'],
  ['MethodDefinition', 'key'],
]);

/** A key of an object, a member after a dot and a type are names, not uses of a value. */
function isNameOnly(node: Node, key: string): boolean {
  if (TYPE_NAMES.get(node.type) === key) return true;
  return VALUE_NAMES.get(node.type) === key && node.computed !== true;
}

function isMember(node: Node, objectName: string, memberName: string): boolean {
  if (node.type !== 'MemberExpression') return false;
  const { object, property } = node;
  if (!isNode(object) || object.name !== objectName || !isNode(property)) return false;
  return property.name === memberName || property.value === memberName;
}
