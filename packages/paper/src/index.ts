// The PDF writer is `@ladlework/paper/pdf`: whoever only looks at pages does not load it.
export { type Mark, PAPER, type PaperPage, type PaperSize } from './drawing.ts';
export { MM_PER_PT } from './letters.ts';
export { type Paper, type PaperFacts, paperOf } from './paper.ts';
