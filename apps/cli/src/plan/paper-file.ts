/** The brew sheet and ruler charts of a day as a PDF file. */
import { readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { paperOf } from '@ladlework/paper';
import { pdfOf } from '@ladlework/paper/pdf';
import type { Plan, PlanDocument } from '@ladlework/planner';
import type { UnitPair } from '@ladlework/quantity';
import type { CalendarDay } from './calendar-day.ts';

const require = createRequire(import.meta.url);

export interface PaperFileFacts {
  readonly path: string;
  readonly letter: boolean;
  readonly pair: UnitPair;
  /** Day of the brew; left out: not printed. */
  readonly on: CalendarDay | undefined;
  readonly printedAt: Date;
}

/**
 * Writes the paper of one or more brews of a day.
 *
 * @param brews in the order they are begun, each feasible
 * @returns what is in the file, as a sentence
 * @throws when a font cannot be read or the file cannot be written
 */
export async function writePaper(
  brews: readonly { readonly document: PlanDocument; readonly plan: Plan }[],
  facts: PaperFileFacts,
): Promise<string> {
  const { pair, on, printedAt } = facts;
  const papers = brews.map(({ document, plan }, n) =>
    paperOf(document, plan, {
      size: facts.letter ? 'letter' : 'a4',
      pair,
      brew: [
        ...(brews.length > 1 ? [`brew ${n + 1} of ${brews.length}`] : []),
        ...(on === undefined ? [] : [isoDay(on)]),
      ].join(', '),
      printed: localText(printedAt),
    }),
  );
  const title = brews.map((b) => b.document.beer.name).join(', ');
  const fonts = { regular: await readFile(FACE.regular), bold: await readFile(FACE.bold) };
  const bytes = await pdfOf(
    papers.flatMap((p) => p.pages),
    fonts,
    { title, printedAt },
  );
  try {
    await writeFile(facts.path, bytes);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new Error(
      `--paper ${facts.path} cannot be written; give a file in a folder that is there and may be written to (${why})`,
    );
  }
  const sheets = papers.reduce((sum, p) => sum + p.sheetPages, 0);
  const charts = papers.reduce((sum, p) => sum + p.pages.length - p.sheetPages, 0);
  const without = papers.flatMap((p) => p.withoutChart);
  const lacking = without.map(
    (pull) => ` Return ${pull} has no chart: its pot reaches the target over too few readings.`,
  );
  return `${facts.path}: ${counted(sheets, 'page')} of brew sheet, ${counted(charts, 'ruler chart')}.${lacking.join('')}`;
}

/** By the clock on the wall, since that is what the sheet is filled in by. */
function localText(at: Date): string {
  const two = (n: number) => String(n).padStart(2, '0');
  const day = { year: at.getFullYear(), month: at.getMonth() + 1, date: at.getDate() };
  return `${isoDay(day)} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

const counted = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`;

const isoDay = ({ year, month, date }: CalendarDay): string =>
  `${year}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`;

/** The bundled typeface, as the page has it. */
const FACE = {
  regular: require.resolve(
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff',
  ),
  bold: require.resolve(
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff',
  ),
};
