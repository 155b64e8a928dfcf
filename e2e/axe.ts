import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults, RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** WCAG 2.2 A and AA, and axe's own rules of good practice. */
const RULES: RunOptions = {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
};

/** What changes between light and dark. */
const CONTRAST: RunOptions = { runOnly: { type: 'rule', values: ['color-contrast'] } };

/**
 * What a page does wrong for people who see, hear or point differently.
 *
 * @returns one line per offending element: rule, element, what to do; empty when the page is clean
 */
export function accessibilityFaults(page: Page): Promise<string[]> {
  return faultsBy(RULES, page);
}

/** Text too faint for its ground, as `accessibilityFaults` tells it. */
export function contrastFaults(page: Page): Promise<string[]> {
  return faultsBy(CONTRAST, page);
}

async function faultsBy(rules: RunOptions, page: Page): Promise<string[]> {
  // Evaluated, not added as a script element, because the page's content policy forbids those.
  await page.evaluate(source);
  const { violations }: AxeResults = await page.evaluate(
    (run) => (globalThis as unknown as { axe: typeof import('axe-core') }).axe.run(run),
    rules,
  );
  return violations.flatMap(({ id, impact, help, nodes }) =>
    nodes.map(
      (node) => `${id} (${impact}): ${node.target.join(' ')}: ${help}. ${node.failureSummary}`,
    ),
  );
}
