import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { summaryOf } from '@ladlework/contract';
import { sheetBoxes, sheetMark } from '@ladlework/log';
import { unitPair } from '@ladlework/quantity';
import { describe, expect, test } from 'vitest';
import { type ReadPage, readPdf, untidy } from '../../../e2e/read-pdf.ts';
import type { PaperSize } from './drawing.ts';
import { paperOf } from './paper.ts';
import { pdfOf } from './pdf.ts';
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

async function sheetOf(name: string, size: PaperSize, units: 'metric' | 'us') {
  const { document, plan } = planned(JSON.parse(readFileSync(`examples/${name}.json`, 'utf8')));
  const paper = paperOf(document, plan, {
    size,
    pair: unitPair(units),
    brew: 'brew 12',
    printed: '2026-11-26 05:40',
  });
  const bytes = await pdfOf(paper.pages, fonts, { title: 'Day', printedAt: new Date(0) });
  const read = await readPdf(bytes);
  const summary = summaryOf(plan);
  return { paper, pages: read.slice(0, paper.sheetPages), summary, plan };
}

/** Codes as they stand on the page, in reading order. */
function codesOn(page: ReadPage) {
  return page.words
    .filter((w) => /^[A-Z]\d+[A-Z]$/.test(w.text))
    .sort((a, b) => (Math.abs(a.y - b.y) < 1.5 ? a.x - b.x : a.y - b.y));
}

const CASES: [string, PaperSize, 'metric' | 'us', number][] = [
  ['one-pull', 'letter', 'us', 1],
  ['two-pull', 'a4', 'metric', 1],
  ['two-pull', 'letter', 'us', 1],
  ['three-pull', 'a4', 'metric', 1],
  ['three-pull', 'letter', 'us', 1],
  ['kettle-mash', 'letter', 'us', 1],
  ['several-pots', 'a4', 'metric', 1],
  ['four-vessels', 'a4', 'metric', 1],
];

describe.each(CASES)('the sheet of %s on %s, %s', (name, size, units, count) => {
  const made = sheetOf(name, size, units);

  test(`is ${count} page`, async () => {
    expect((await made).pages).toHaveLength(count);
  });

  test('has every box in the order of the screen', async () => {
    const { pages, summary } = await made;
    const codes = pages.flatMap((p) => codesOn(p).map((w) => w.text));
    expect(codes).toEqual(sheetBoxes(summary).map((b) => b.code));
  });

  test('has room to write beside every code, and nothing printed in it', async () => {
    const { pages } = await made;
    for (const page of pages)
      for (const code of codesOn(page).filter((w) => !w.text.startsWith('N'))) {
        const box = page.boxes.find(
          (b) =>
            b.x > code.x && b.x < code.x + code.width + 2 && code.y > b.y && code.y < b.y + b.h,
        );
        if (box === undefined) throw new Error(`no box beside ${code.text}`);
        expect(box.w, code.text).toBeGreaterThan(4);
        expect(box.h, code.text).toBeGreaterThan(4);
        const inside = page.words.filter(
          (w) => w.x < box.x + box.w && box.x < w.x + w.width && w.y > box.y && w.y < box.y + box.h,
        );
        expect(
          inside.map((w) => w.text),
          code.text,
        ).toEqual([]);
      }
  });

  test('keeps every word on the paper and off every other', async () => {
    for (const page of (await made).pages) expect(untidy(page)).toEqual([]);
  });

  test('names the plan, and says every caution at its move and in full at the foot', async () => {
    const { pages, summary, plan } = await made;
    const text = pages.flatMap((p) => p.words.map((w) => w.text)).join('\n');
    expect(text).toContain(`Sheet ${sheetMark(summary)}`);
    const scalds = new Set(plan.cautions.filter((c) => c.code === 'scald').map((c) => c.moveId));
    expect(text.match(/^(.* )?SCALD( .*)?$/gm)?.length).toBe(scalds.size);
    expect(text).toMatch(/^SCALD: .*sleeves down, face away/m);
    if (plan.cautions.some((c) => c.code === 'burner-co')) expect(text).toMatch(/^CO: /m);
  });
});

test('a day too long for one page says how much follows, and no box is lost', async () => {
  const { document, plan } = planned(JSON.parse(readFileSync('examples/three-pull.json', 'utf8')));
  const twice = {
    ...plan,
    moves: [
      ...plan.moves,
      ...plan.moves.map((m) => ({
        ...m,
        move: { ...m.move, id: `${m.move.id}-again` },
        startMin: shifted(m.startMin),
        endMin: shifted(m.endMin),
      })),
    ],
  };
  const { brewSheet } = await import('./sheet.ts');
  const summary = summaryOf(twice);
  const pages = brewSheet(document, twice, summary, {
    size: 'a4',
    pair: unitPair('metric'),
    brew: '',
    printed: '2026-11-26',
    remarks: [],
  });
  expect(pages).toHaveLength(2);
  const read = await readPdf(await pdfOf(pages, fonts, { title: 'Day', printedAt: new Date(0) }));
  expect(read[0]?.words.map((w) => w.text).join('\n')).toMatch(/^\d+ rows follow on page 2: /m);
  const codes = read.flatMap((p) => codesOn(p).map((w) => w.text));
  expect(codes).toEqual(sheetBoxes(summary).map((b) => b.code));
});

const shifted = (b: { low: number; likely: number; high: number }) => ({
  low: b.low + 400,
  likely: b.likely + 400,
  high: b.high + 400,
});
