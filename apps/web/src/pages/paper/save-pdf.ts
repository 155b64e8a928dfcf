/** The pages on screen as a PDF file, made on this device; loaded when somebody asks for it. */
import regular from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff?url';
import bold from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff?url';
import type { PaperPage } from '@ladlework/paper';
import { pdfOf } from '@ladlework/paper/pdf';

/**
 * Writes pages as a PDF.
 *
 * @throws Error when the typeface is not on this device
 */
export async function pdfFile(
  pages: readonly PaperPage[],
  title: string,
  printedAtMs: number,
): Promise<Uint8Array<ArrayBuffer>> {
  const fonts = { regular: await bytesOf(regular), bold: await bytesOf(bold) };
  const bytes = await pdfOf(pages, fonts, { title, printedAt: new Date(printedAtMs) });
  return Uint8Array.from(bytes);
}

async function bytesOf(url: string): Promise<Uint8Array> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`the typeface could not be read (${answer.status})`);
  return new Uint8Array(await answer.arrayBuffer());
}
