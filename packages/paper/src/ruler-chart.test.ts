import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { seededRandom } from '@ladlework/numerics';
import { returnRulers } from '@ladlework/planner';
import { toHouse, type UnitPair, unitPair } from '@ladlework/quantity';
import { describe, expect, test } from 'vitest';
import {
  type PdfStroke,
  type ReadPage,
  readPdf,
  readScale,
  untidy,
  xOn,
} from '../../../e2e/read-pdf.ts';
import type { PaperSize } from './drawing.ts';
import { pdfOf } from './pdf.ts';
import { rulerChart } from './ruler-chart.ts';
import { planned } from './testing.ts';

const require = createRequire(import.meta.url);
const fonts = {
  regular: readFileSync(
    require.resolve(
      '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff',
    ),
  ),
  bold: readFileSync(
    require.resolve(
      '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff',
    ),
  ),
};
const facts = { title: 'Charts', printedAt: new Date(Date.UTC(2026, 10, 26)) };

const example = (name: string) => JSON.parse(readFileSync(`examples/${name}.json`, 'utf8'));

async function charts(json: unknown, size: PaperSize, pair: UnitPair) {
  const { document, plan } = planned(json);
  const rulers = returnRulers(
    document,
    plan.moves.map((m) => m.move),
  );
  const nameOf = (id: string) => document.kit.vessels.find((v) => v.id === id)?.name ?? id;
  const pages = rulers.map((ruler) => {
    const brew = `${document.beer.name} on ${document.kit.name}`;
    const { liquorLPerKg } = document.mash;
    return rulerChart(ruler, { size, pair, nameOf, brew, liquorLPerKg });
  });
  const bytes = await pdfOf(
    pages.filter((p) => p !== undefined),
    fonts,
    facts,
  );
  return { rulers, read: await readPdf(bytes), bytes };
}

/** The three scales of a chart, found on the page by their lines alone. */
function scalesOn(page: ReadPage) {
  const length = (s: PdfStroke) => Math.hypot(s.x2 - s.x1, s.y2 - s.y1);
  const long = page.strokes.filter((s) => !s.dashed && length(s) > 40);
  const upright = long.filter((s) => Math.abs(s.x1 - s.x2) < 0.01).sort((a, b) => a.x1 - b.x1);
  const slope = long.find((s) => Math.abs(s.x1 - s.x2) > 5 && Math.abs(s.y1 - s.y2) > 5);
  const [tun, arrival, pot] = upright;
  if (!tun || !arrival || !pot || !slope) throw new Error('the page has no three scales');
  return {
    slope,
    tun: readScale(page, tun, 'left'),
    arrival: readScale(page, arrival, 'right'),
    litres: readScale(page, slope, 'left'),
    portions: readScale(page, slope, 'right'),
    pot: readScale(page, pot, 'right'),
  };
}
type Points = ReturnType<typeof readScale>['points'];

/** Height of a value between its two strokes; undefined beyond the last. */
function heightOf(points: Points, value: number): number | undefined {
  const rows = [...points].sort((a, b) => a.value - b.value);
  const n = rows.findIndex((p) => p.value >= value);
  const high = rows[n];
  const low = rows[n - 1];
  if (!high || !low) return undefined;
  return low.y + ((value - low.value) / (high.value - low.value)) * (high.y - low.y);
}

/** Value at a height, between its two strokes. */
function valueAt(points: Points, y: number): number | undefined {
  const n = points.findIndex((p) => p.y >= y);
  const below = points[n];
  const above = points[n - 1];
  if (!below || !above) return undefined;
  return above.value + ((y - above.y) / (below.y - above.y)) * (below.value - above.value);
}

/** Where a straight edge over two heights of the upright scales crosses the slope. */
function crossing(scales: ReturnType<typeof scalesOn>, left: number, right: number): number {
  const { slope, tun, arrival } = scales;
  const x1 = tun.points[0]?.x as number;
  const x2 = arrival.points[0]?.x as number;
  const edge = { x1, y1: left, x2, y2: right };
  const gap = (y: number) => {
    const x = xOn(slope, y);
    return y - (edge.y1 + ((edge.y2 - edge.y1) * (x - x1)) / (x2 - x1));
  };
  // Both are straight lines: one step of the secant is exact.
  const [a, b] = [gap(slope.y1), gap(slope.y2)];
  return slope.y1 - (a * (slope.y2 - slope.y1)) / (b - a);
}

const CASES: [string, PaperSize, 'metric' | 'us', number][] = [
  ['one-pull', 'letter', 'us', 1],
  ['two-pull', 'a4', 'metric', 2],
  ['three-pull', 'a4', 'metric', 3],
  ['three-pull', 'letter', 'us', 3],
  ['kettle-mash', 'letter', 'us', 1],
  ['several-pots', 'a4', 'metric', 1],
  ['four-vessels', 'a4', 'us', 1],
];

describe.each(CASES)('the charts of %s on %s, %s', (name, size, units, count) => {
  const pair = unitPair(units);
  const degree = units === 'us' ? '°F' : '°C';
  const made = charts(example(name), size, pair);

  test('are one a return', async () => {
    const { rulers, read } = await made;
    expect(rulers).toHaveLength(count);
    expect(read).toHaveLength(count);
  });

  test('give the engine’s litres within 2 % wherever a straight edge crosses all three', async () => {
    const { rulers, read } = await made;
    for (const [n, ruler] of rulers.entries()) {
      const page = read[n] as ReadPage;
      const scales = scalesOn(page);
      const unit = page.words.find((w) => /^(L|hL|qt|gal|bbl)$/.test(w.text))?.text as string;
      const random = seededRandom(7 + n);
      const first = (points: Points) => points.reduce((a, b) => (a.value < b.value ? a : b)).value;
      const last = (points: Points) => points.reduce((a, b) => (a.value > b.value ? a : b)).value;
      const between = (points: Points) => first(points) + (last(points) - first(points)) * random();
      let tried = 0;
      let worst = 0;
      for (let k = 0; k < 400; k++) {
        const tun = between(scales.tun.points);
        const pot = between(scales.pot.points);
        const tunC = toHouse('temperature', degree, tun);
        const need = ruler.need(tunC, toHouse('temperature', degree, pot));
        if (!need.reached) continue;
        const shown = units === 'us' ? need.arrivalC * 1.8 + 32 : need.arrivalC;
        const left = heightOf(scales.tun.points, tun);
        const right = heightOf(scales.arrival.points, shown);
        if (left === undefined || right === undefined) continue;
        const y = crossing(scales, left, right);
        const read = valueAt(scales.litres.points, y);
        if (read === undefined) continue;
        tried++;
        worst = Math.max(worst, Math.abs(toHouse('volume', unit, read) / need.litres - 1));
        const portions = valueAt(scales.portions.points, y);
        if (portions !== undefined)
          expect(portions * ruler.route.portionL).toBeCloseTo(toHouse('volume', unit, read), 0);
      }
      expect(tried, `return ${ruler.pull}`).toBeGreaterThan(80);
      expect(worst, `return ${ruler.pull}`).toBeLessThanOrEqual(0.02);
    }
  });

  test('keep every word on the paper and off every other', async () => {
    const { read } = await made;
    for (const page of read) expect(untidy(page)).toEqual([]);
  });
});

test('the same pages with the same date are the same bytes', async () => {
  const once = await charts(example('one-pull'), 'a4', unitPair('metric'));
  const again = await charts(example('one-pull'), 'a4', unitPair('metric'));
  expect(Buffer.from(once.bytes).equals(Buffer.from(again.bytes))).toBe(true);
});
