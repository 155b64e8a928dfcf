/** Bands and paragraphs as the pages of `compare` print them. */
import type { Band } from '@ladlework/planner';

const WIDTH = 80;

/** "2.4–2.6–3.0", one number when all round to it; a difference as "-0.4 to +0.2". */
export function plainBand(band: Band, digits: number, signed = false): string {
  const [low, likely, high] = [band.low, band.likely, band.high].map((x) => {
    const text = x.toFixed(digits).replace(/^-(0\.?0*)$/, '$1');
    return signed && Number(text) > 0 ? `+${text}` : text;
  });
  if (low === high) return `${likely}`;
  return signed ? `${low} to ${high}` : `${low}–${likely}–${high}`;
}

/** Text broken at the width of a terminal, later lines set in. */
export function wrapped(text: string, indent: string): string {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(' ')) {
    if (line.trim() !== '' && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = `${indent}  ${word}`;
    } else line = line.trim() === '' ? `${indent}${word}` : `${line} ${word}`;
  }
  return [...lines, line].join('\n');
}
