/**
 * How wide each letter of the page's typeface is, so that what fits on paper is known without a
 * browser and without a font file.
 */

/** The letters the bundled cut of the face has. */
const LETTERS =
  ' !"#$%&\'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~¡¢£¤¥¦§¨©ª«¬®¯°±²³´¶·¸¹º»¼½¾¿ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõö÷øùúûüýþÿıŒœ–—‘’‚“”•…€−';

/** Advance widths of LETTERS [1/1000 em]. @source Atkinson Hyperlegible Next 5.3.0, table hmtx of its regular cut */
// biome-ignore format: a table of numbers, twenty to the line
const REGULAR = [
  280, 286, 301, 651, 592, 919, 731, 160, 299, 299, 485, 606, 210, 362, 210, 387, 648, 407, 548, 576,
  614, 588, 598, 510, 615, 595, 210, 210, 553, 628, 553, 480, 778, 626, 613, 645, 669, 569, 552, 694,
  694, 392, 512, 631, 541, 824, 693, 714, 592, 724, 614, 592, 558, 690, 593, 856, 623, 575, 607, 317,
  387, 344, 552, 372, 243, 525, 566, 485, 564, 538, 314, 558, 550, 252, 245, 492, 262, 845, 550, 548,
  566, 574, 349, 471, 326, 540, 461, 684, 481, 449, 460, 344, 237, 344, 555, 286, 485, 610, 580, 575,
  237, 528, 368, 798, 371, 562, 602, 798, 356, 352, 579, 382, 383, 243, 509, 240, 265, 256, 380, 562,
  816, 820, 867, 450, 626, 626, 626, 626, 626, 626, 891, 645, 569, 569, 569, 569, 392, 392, 392, 392,
  689, 693, 714, 714, 714, 714, 714, 532, 714, 690, 690, 690, 690, 575, 592, 582, 525, 525, 525, 525,
  525, 525, 866, 485, 538, 538, 538, 538, 252, 252, 252, 266, 565, 550, 548, 548, 548, 548, 548, 606,
  548, 540, 540, 540, 540, 449, 566, 449, 252, 1006, 924, 504, 824, 236, 236, 236, 399, 399, 438, 670,
  664, 606,
];

/** The same of its bold cut. */
// biome-ignore format: a table of numbers, twenty to the line
const BOLD = [
  312, 303, 390, 765, 610, 969, 725, 210, 335, 335, 485, 595, 271, 373, 272, 440, 659, 440, 579, 600,
  624, 607, 626, 537, 624, 571, 272, 272, 569, 612, 569, 547, 781, 678, 643, 658, 688, 597, 566, 718,
  701, 424, 561, 663, 552, 858, 717, 746, 629, 756, 650, 610, 607, 686, 644, 886, 685, 650, 618, 340,
  440, 344, 582, 400, 288, 552, 596, 510, 596, 563, 365, 593, 571, 300, 259, 555, 318, 882, 571, 576,
  596, 599, 376, 508, 376, 567, 530, 740, 539, 521, 505, 381, 254, 381, 537, 303, 510, 634, 593, 650,
  254, 555, 432, 798, 390, 649, 615, 798, 383, 394, 611, 402, 407, 288, 521, 294, 297, 284, 403, 649,
  846, 852, 921, 526, 678, 678, 678, 678, 678, 678, 966, 658, 597, 597, 597, 597, 424, 424, 424, 424,
  708, 717, 746, 746, 746, 746, 746, 536, 746, 686, 686, 686, 686, 650, 629, 621, 552, 552, 552, 552,
  552, 552, 878, 510, 563, 563, 563, 563, 300, 300, 300, 314, 588, 571, 576, 576, 576, 576, 576, 595,
  576, 567, 567, 567, 567, 521, 596, 521, 300, 1024, 936, 501, 832, 269, 269, 269, 479, 479, 438, 780,
  678, 595,
];

const PLACE = new Map([...LETTERS].map((letter, n) => [letter, n]));

/** A point in millimetres. */
export const MM_PER_PT = 25.4 / 72;

/**
 * Length of a line of text.
 *
 * @param text  in letters of the face; any other counts as a question mark
 * @param sizePt  size of the type [pt]
 * @param bold  in the bold cut
 * @returns [mm], kerning left out (it makes a line under 1 % shorter)
 */
export function textWidthMm(text: string, sizePt: number, bold = false): number {
  const widths = bold ? BOLD : REGULAR;
  let em = 0;
  for (const letter of inFace(text)) em += widths[PLACE.get(letter) as number] as number;
  return (em / 1000) * sizePt * MM_PER_PT;
}

/** The text with every letter the face does not have as a question mark. */
export function inFace(text: string): string {
  return [...text].map((letter) => (PLACE.has(letter) ? letter : '?')).join('');
}

/**
 * Breaks text into lines.
 *
 * @param widthMm  longest line [mm]
 * @returns lines; a word longer than a line stands in one of its own
 */
export function linesOf(text: string, widthMm: number, sizePt: number, bold = false): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidthMm(longer, sizePt, bold) > widthMm) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  if (line !== '') lines.push(line);
  return lines;
}
