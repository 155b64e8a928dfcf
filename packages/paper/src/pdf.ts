/** Pages as a PDF file. */
import fontkit from '@pdf-lib/fontkit';
import { PDFDocument, type PDFFont, type PDFPage, rgb } from 'pdf-lib';
import { type Mark, PAPER, type PaperPage } from './drawing.ts';
import { inFace, MM_PER_PT } from './letters.ts';

/** The typeface's files (TrueType or WOFF): they come from whoever can read files. */
export interface PaperFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

export interface PdfFacts {
  readonly title: string;
  /** When it was printed; the same pages with the same date give the same bytes. */
  readonly printedAt: Date;
}

const BLACK = rgb(0, 0, 0);
const SHADE = rgb(0.9, 0.9, 0.9);
const DASH_PT = [4, 3];

/**
 * Writes pages as one PDF, the typeface's letters embedded as far as they are used.
 *
 * @param pages in order
 * @param fonts regular and bold cut
 * @param facts title and date
 * @returns the bytes of the file
 * @throws Error when a font cannot be read
 */
export async function pdfOf(
  pages: readonly PaperPage[],
  fonts: PaperFonts,
  facts: PdfFacts,
): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  document.registerFontkit(fontkit);
  document.setTitle(facts.title, { showInWindowTitleBar: true });
  document.setCreator('Ladlework');
  document.setProducer('Ladlework');
  document.setCreationDate(facts.printedAt);
  document.setModificationDate(facts.printedAt);
  const regular = await document.embedFont(fonts.regular, { subset: true });
  const bold = await document.embedFont(fonts.bold, { subset: true });
  for (const { size, marks } of pages) {
    const [widthMm, heightMm] = PAPER[size];
    const page = document.addPage([pt(widthMm), pt(heightMm)]);
    for (const mark of marks) draw(page, mark, heightMm, { regular, bold });
  }
  return document.save();
}

const pt = (mm: number): number => mm / MM_PER_PT;

function draw(
  page: PDFPage,
  mark: Mark,
  heightMm: number,
  fonts: { readonly regular: PDFFont; readonly bold: PDFFont },
): void {
  const y = (mm: number) => pt(heightMm - mm);
  switch (mark.kind) {
    case 'line':
      page.drawLine({
        start: { x: pt(mark.x1), y: y(mark.y1) },
        end: { x: pt(mark.x2), y: y(mark.y2) },
        thickness: pt(mark.widthMm),
        color: BLACK,
        ...(mark.dashed ? { dashArray: DASH_PT } : {}),
      });
      return;
    case 'box':
      page.drawRectangle({
        x: pt(mark.x),
        y: y(mark.y + mark.h),
        width: pt(mark.w),
        height: pt(mark.h),
        ...(mark.widthMm > 0 ? { borderWidth: pt(mark.widthMm), borderColor: BLACK } : {}),
        ...(mark.shaded ? { color: SHADE } : {}),
      });
      return;
    case 'text': {
      const font = mark.bold ? fonts.bold : fonts.regular;
      const text = inFace(mark.text);
      const wide = font.widthOfTextAtSize(text, mark.sizePt);
      const back = mark.anchor === 'start' ? 0 : mark.anchor === 'middle' ? wide / 2 : wide;
      page.drawText(text, {
        x: pt(mark.x) - back,
        y: y(mark.y),
        size: mark.sizePt,
        font,
        color: BLACK,
      });
    }
  }
}
