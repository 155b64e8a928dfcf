/** Codes for cameras. */
import { encode } from 'uqr';

/** Light border that cameras need around the code [modules]. @source ISO/IEC 18004, 5.3.8 */
const QUIET = 4;

/** A code as one outline: dark modules as runs of squares, in units of one module. */
export interface QrOutline {
  /** Width and height with the border. */
  readonly size: number;
  /** For the `d` of an SVG path, dark on light. */
  readonly path: string;
}

/**
 * A QR code of a text, with error correction M.
 *
 * @param text up to 300 characters
 */
export function qrOutline(text: string): QrOutline {
  const { data, size } = encode(text, { ecc: 'M', border: 0 });
  const runs: string[] = [];
  for (const [y, row] of data.entries()) {
    for (let x = 0; x < size; x += 1) {
      if (row[x] !== true) continue;
      let length = 1;
      while (row[x + length] === true) length += 1;
      runs.push(`M${x + QUIET} ${y + QUIET}h${length}v1h-${length}z`);
      x += length;
    }
  }
  return { size: size + 2 * QUIET, path: runs.join('') };
}
