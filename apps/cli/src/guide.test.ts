import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { followGuide, type GuideStep, sumTable } from './guide.ts';

/** A plan's numbers move with every better figure of the engine; the guide shows its shape. */
const shapeOf = (text: string): string =>
  text.replace(/[+-]?\d(?:[\d.,:–±>+\s-]|min\b|h\b|s\b)*/g, '# ').replace(/[ \t]+/g, ' ');

describe('docs/cli.md', () => {
  let guide: string;
  let steps: GuideStep[];
  beforeAll(async () => {
    guide = await readFile(new URL('../../../docs/cli.md', import.meta.url), 'utf8');
    steps = (await followGuide(guide)).steps;
    // Some twenty commands, the comparisons among them: half a minute on an idle machine.
  }, 240_000);

  it('shows every command and every sum', () => {
    for (const name of [
      'plan',
      'compare',
      'sum',
      'trace',
      'probe',
      'serve',
      'verify',
      'backup',
      'restore',
      'export',
      'import',
    ])
      expect(
        steps.map((s) => s.command.split(' ')[0]),
        name,
      ).toContain(name);
    expect(guide).toContain(sumTable());
  });

  it('ends each command as it says', () => {
    for (const step of steps) expect(step.exit, step.command).toBe(step.wantedExit);
  });

  it('prints what it shows; else run: npx tsx apps/cli/src/write-guide.ts', () => {
    expect(steps.filter((s) => s.shown !== undefined).length).toBeGreaterThan(8);
    for (const { command, shown, printed } of steps) {
      if (shown === undefined) continue;
      if (/^(plan|compare) /.test(command)) expect(shapeOf(printed), command).toBe(shapeOf(shown));
      else expect(printed, command).toBe(shown);
    }
  });
});
