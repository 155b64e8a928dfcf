import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as matter from './index.ts';

const here = new URL('./', import.meta.url);
const sources = readdirSync(here).filter(
  (f) => f.endsWith('.ts') && !f.endsWith('.test.ts') && f !== 'index.ts',
);

/** Every exported function with the comment that stands directly before it ('' when none does). */
function exportedFunctions(file: string): { name: string; comment: string; parameters: string }[] {
  const text = readFileSync(new URL(file, here), 'utf8');
  const found: { name: string; comment: string; parameters: string }[] = [];
  for (const match of text.matchAll(/^export function (\w+)\(([^)]*)/gm)) {
    const before = text.slice(0, match.index).trimEnd();
    const comment = before.endsWith('*/') ? before.slice(before.lastIndexOf('/**')) : '';
    found.push({ name: match[1] ?? '', comment, parameters: match[2] ?? '' });
  }
  return found;
}

const all = sources.flatMap((file) => exportedFunctions(file).map((f) => ({ file, ...f })));

it('finds the functions it is to judge', () => {
  expect(all.length).toBeGreaterThan(60);
  expect(all.map((f) => f.name)).toContain('waterDensity');
});

it('no physics hides in an exported arrow function', () => {
  for (const file of sources) {
    expect(readFileSync(new URL(file, here), 'utf8'), file).not.toMatch(
      /^export const \w+ = (\([^)]*\)|\w+)(: \w+)? =>/m,
    );
  }
});

describe('every exported function says where it is from and where it holds', () => {
  it.each(all.map((f) => [`${f.file} ${f.name}`, f] as const))('%s', (_, f) => {
    expect(f.comment, 'a doc comment').not.toBe('');
    expect(f.comment, '@source').toMatch(/@source \S+/);
    expect(f.comment, '@returns').toMatch(/@returns \S+/);
    expect(f.comment, '@throws').toMatch(/@throws OutOfRange/);
    expect(f.comment, '@param').toMatch(/@param \S+/);
  });

  it.each(
    all
      .filter((f) => /: number/.test(f.parameters) && f.file !== 'errors.ts')
      .map((f) => [`${f.file} ${f.name}`, f] as const),
  )('%s gives a range for its numbers', (_, f) => {
    const parameters = f.comment.slice(f.comment.indexOf('@param'), f.comment.indexOf('@returns'));
    expect(parameters).toMatch(/-?\d[\d.e-]*\s(up )?to\s/);
  });
});

/** "expression // value" of the example in a comment, lines joined. */
function exampleOf(comment: string): { expression: string; value: string } | undefined {
  const start = comment.indexOf('@example');
  if (start < 0) return undefined;
  const text = comment
    .slice(start + '@example'.length, comment.lastIndexOf('*/'))
    .replaceAll(/\n\s*\*/g, ' ')
    .trim();
  const cut = text.lastIndexOf('//');
  return { expression: text.slice(0, cut).trim(), value: text.slice(cut + 2).trim() };
}

const evaluate = (expression: string): unknown =>
  new Function(...Object.keys(matter), `return (${expression});`)(...Object.values(matter));

describe('every worked number in a comment is what the code gives', () => {
  const examples = all.flatMap((f) => {
    const example = exampleOf(f.comment);
    return example === undefined ? [] : [[`${f.file} ${f.name}`, example] as const];
  });

  it('most functions have one', () => {
    expect(examples.length).toBeGreaterThan(45);
  });

  it.each(examples)('%s', (_, { expression, value }) => {
    const result = evaluate(expression);
    if (value.startsWith('{')) {
      expect(result).toEqual(evaluate(value));
      return;
    }
    expect(value).toMatch(/^-?[\d.]+(e-?\d+)?$/);
    const [mantissa = '', exponent = '0'] = value.split('e');
    const step = 10 ** (Number(exponent) - (mantissa.split('.')[1] ?? '').length);
    expect(Math.abs(Number(result) - Number(value))).toBeLessThanOrEqual(step * 0.6);
  });
});
