/** What is wrong with a document, for the brewer: field, value, what is allowed, what to do. */
import type { BaseIssue } from 'valibot';
import { KNOWN, plainWord, WANTED } from './fields.ts';

export interface FieldError {
  readonly code:
    | 'missing'
    | 'unknown-field'
    | 'wrong-type'
    | 'not-allowed'
    | 'out-of-range'
    | 'contradiction';
  /** Path in the document: `kit.vessels[0].brimL`. */
  readonly field: string;
  /** What stands there, shortened. */
  readonly value: string;
  readonly allowed: string;
  /** One sentence with all of it. */
  readonly message: string;
}

/** Longest value shown back: a message is for reading, and for no larger answer than question. */
const SHOWN_LENGTH = 80;

/** A value as it is shown in a message. */
function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'string' ? `"${value}"` : plainJson(value);
  return text.length > SHOWN_LENGTH ? `${text.slice(0, SHOWN_LENGTH)}…` : text;
}

function plainJson(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  return String(value);
}

type Step = string | number;

/** `kit.vessels[0].brimL` from its steps. */
function pathText(steps: readonly Step[]): string {
  let text = '';
  for (const step of steps) {
    const key = String(step).slice(0, SHOWN_LENGTH);
    if (typeof step === 'number') text += `[${step}]`;
    else text += text === '' ? key : `.${key}`;
  }
  return text === '' ? 'document' : text;
}

/** The path, and the name of the nearest thing that has one: `kit.vessels[0].brimL (Kettle)`. */
function whereText(root: unknown, steps: readonly Step[]): string {
  let name: string | undefined;
  let at: unknown = root;
  for (const step of steps) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) break;
    at = (at as Record<Step, unknown>)[step];
    const own = typeof at === 'object' && at !== null && 'name' in at ? at.name : undefined;
    // The kit's own name helps nobody find a vessel.
    if (typeof own === 'string' && typeof step === 'number') name = own;
  }
  const path = pathText(steps);
  return name === undefined ? path : `${path} (${name.slice(0, SHOWN_LENGTH)})`;
}

/**
 * What a schema found, in the brewer's words.
 *
 * @param root the document that was checked
 * @param issues of valibot
 */
export function fieldErrors(root: unknown, issues: readonly BaseIssue<unknown>[]): FieldError[] {
  return issues.flatMap((issue) => fieldError(root, issue));
}

function fieldError(root: unknown, issue: BaseIssue<unknown>, above: Step[] = []): FieldError[] {
  const steps = [...above, ...(issue.path ?? []).map((p) => p.key as Step)];
  const where = whereText(root, steps);
  const value = shown(issue.input);
  const make = (code: FieldError['code'], allowed: string, why: string): FieldError[] => [
    { code, field: pathText(steps), value, allowed, message: `${where}: ${why}` },
  ];
  const { message, type } = issue;

  if (message.startsWith(KNOWN)) {
    const known = message.slice(KNOWN.length);
    return make(
      'unknown-field',
      known,
      `is not a field here; known: ${known}. Check the spelling.`,
    );
  }
  if (message.startsWith(WANTED)) {
    const allowed = message.slice(WANTED.length);
    return make('missing', allowed, `is missing; allowed: ${allowed}.`);
  }
  if (type === 'raw_transform') {
    const outside = message.includes('outside the allowed range');
    return make(outside ? 'out-of-range' : 'wrong-type', issue.expected ?? '', message);
  }
  // Of a choice between a word and an object, an object is told what is wrong inside it.
  const inside = type === 'union' ? (issue.issues ?? []).filter((i) => i.path) : [];
  if (inside.length > 0) return inside.flatMap((i) => fieldError(root, i, steps));

  const allowed = plainWord(issue.expected ?? '');
  if (type === 'picklist' || type === 'variant' || type === 'literal') {
    return make('not-allowed', allowed, `${value} is not one of the choices; allowed: ${allowed}.`);
  }
  if (issue.kind === 'schema') {
    return make('wrong-type', allowed, `${value} is of the wrong kind; allowed: ${allowed}.`);
  }
  return make('not-allowed', message, `${value} ${message}.`);
}

/** A contradiction between fields, each of which is right by itself. */
export function contradiction(
  root: unknown,
  steps: readonly Step[],
  value: unknown,
  allowed: string,
  why: string,
): FieldError {
  return {
    code: 'contradiction',
    field: pathText(steps),
    value: shown(value),
    allowed,
    message: `${whereText(root, steps)}: ${why}`,
  };
}
