export { paperOf } from './paper.ts';
export { type PaperFonts, pdfOf } from './pdf.ts';
