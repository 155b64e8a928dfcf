import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawChart } from './plots/chart.ts';
import { mashPlots } from './plots/mash.ts';
import { root } from './source-scan.ts';

const folder = `${root}docs/science/plots/`;
const NUMBER = /-?\d+\.\d+/g;
/** Machines differ in the last digit of exp; a tenth of a pixel may then round the other way. */
const SAME_PX = 0.15;

const numbers = (svg: string) => [...svg.matchAll(NUMBER)].map(([text]) => Number(text));
const frame = (svg: string) => svg.replaceAll(NUMBER, '#');

describe('plots of docs/science', () => {
  const plots = mashPlots();

  it('are the ones the command draws, all of them', () => {
    const drawn = readdirSync(folder).filter((name) => name.startsWith('mash-'));
    expect(drawn.sort()).toEqual([...plots.keys()].sort());
  });

  it.each([...plots.keys()])('%s is what model and measurements give today', (name) => {
    const kept = readFileSync(folder + name, 'utf8');
    const drawn = drawChart(plots.get(name)!);
    expect(frame(kept), 'run npx tsx scripts/science-plots.ts').toBe(frame(drawn));
    const now = numbers(drawn);
    const furthest = numbers(kept).reduce((far, x, i) => Math.max(far, Math.abs(x - now[i]!)), 0);
    expect(furthest, 'run npx tsx scripts/science-plots.ts').toBeLessThan(SAME_PX);
  });

  it('keep every mark inside the picture', () => {
    for (const chart of plots.values())
      for (const mark of chart.marks) {
        const points = mark.kind === 'line' ? mark.points : mark.kind === 'point' ? [mark.at] : [];
        for (const [x, y] of points) {
          expect(x).toBeGreaterThanOrEqual(chart.x.from);
          expect(x).toBeLessThanOrEqual(chart.x.to);
          expect(y).toBeGreaterThanOrEqual(chart.y.from);
          expect(y).toBeLessThanOrEqual(chart.y.to);
        }
      }
  });

  it('name what they show beside it, for those who see the colours and those who do not', () => {
    for (const [name, chart] of plots) {
      expect(chart.says.length, name).toBeGreaterThan(20);
      // Longer than this runs out of the picture.
      expect(chart.says.length, name).toBeLessThan(106);
      expect(
        chart.marks.some(({ label }) => (label?.text ?? '') !== ''),
        name,
      ).toBe(true);
    }
  });
});
