import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import fontkit from '@pdf-lib/fontkit';
import { describe, expect, test } from 'vitest';
import { inFace, linesOf, MM_PER_PT, textWidthMm } from './letters.ts';

const require = createRequire(import.meta.url);
const FACE = {
  regular: require.resolve(
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff',
  ),
  bold: require.resolve(
    '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff',
  ),
};
const SAID =
  'Pull 14.5 L at 62.0 °C – 71 °F; “Hauptguß” ½ × ± − (kettle) QUICK brown_fox jumps over: 98 %';

describe('the table of widths', () => {
  test.each(['regular', 'bold'] as const)('is that of the %s font file', (cut) => {
    const font = fontkit.create(readFileSync(FACE[cut]));
    for (const letter of SAID) {
      const own = font.glyphForCodePoint(letter.codePointAt(0) as number).advanceWidth;
      const table = textWidthMm(letter, 10, cut === 'bold') / (10 * MM_PER_PT);
      expect(table * font.unitsPerEm, letter).toBeCloseTo(own, 6);
    }
  });
});

test('a letter the face does not have is a question mark', () => {
  expect(inFace('Пиво 5 L')).toBe('???? 5 L');
});

test('lines are broken where they are full, and no word is lost', () => {
  const lines = linesOf(SAID, 40, 9);
  expect(lines.join(' ')).toBe(SAID);
  expect(lines.length).toBeGreaterThan(3);
  for (const line of lines) expect(textWidthMm(line, 9)).toBeLessThanOrEqual(40);
});
