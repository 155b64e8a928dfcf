import { inRange } from './errors.ts';
import type { MaltBuffer } from './mash-ph.ts';

/**
 * Buffers to stand in where a lot has no titration. Ranges from memory (Munich 5.4-5.6, caramel
 * 4.5-5.3, roast 4.5-4.8; slope -35 to -50 for base malt, -60 to -80 for caramel and roast); pale
 * malt 5.8-6.0 in distilled water by Briggs et al., second hand, less for the congress wort of a
 * Pilsner lot; wheat from the one published titration. The middle of each range is our choice.
 */
export const DEFAULT_BUFFERS = {
  pale: { ph: 5.8, slope: -42 },
  pilsner: { ph: 5.75, slope: -40 },
  munich: { ph: 5.5, slope: -45 },
  wheat: { ph: 6.07, slope: -44.9, curvature: -6 },
  caramel: { ph: 4.9, slope: -70 },
  roast: { ph: 4.65, slope: -70 },
} as const satisfies Readonly<Record<string, MaltBuffer>>;
export type BufferKind = keyof typeof DEFAULT_BUFFERS;

/** One malt of a mash with its buffer. */
export interface BufferedMalt {
  readonly kg: number;
  readonly buffer: MaltBuffer;
}

/**
 * One buffer that stands for all malts of a grist together, exactly: sums of cubics are cubics.
 *
 * @param malts kg 0 to 1e5 each, not all 0; buffers as for the mash pH: ph 4 to 7, slope -200 to -5
 * @returns pH of the whole grist in distilled water, and its three terms about it per kilogram
 * @throws OutOfRange outside the ranges, or when the malts balance nowhere from pH 4 to 7
 * @source sum of the malts' proton deficits: deLange, MBAA TQ 52(1):3 (2015)
 * @example gristBuffer([{ kg: 3, buffer: { ph: 5.8, slope: -40 } },
 *   { kg: 1, buffer: { ph: 5, slope: -40 } }]).ph // 5.60
 */
export function gristBuffer(malts: readonly BufferedMalt[]): MaltBuffer {
  let kg = 0;
  for (const malt of malts) kg += inRange('malt', malt.kg, 0, 1e5, 'kg');
  inRange('grist', kg, 1e-9, 1e7, 'kg');
  const sum = (of: (d: number, b: MaltBuffer) => number, ph: number) =>
    malts.reduce((total, m) => total + (m.kg / kg) * of(ph - m.buffer.ph, m.buffer), 0);
  const deficit = (d: number, b: MaltBuffer) =>
    d * (b.slope + d * ((b.curvature ?? 0) + d * (b.third ?? 0)));
  let low = 4;
  let high = 7;
  inRange('protons wanted by the grist at pH 4', sum(deficit, low), 0, Infinity, 'mEq/kg');
  inRange('protons wanted by the grist at pH 7', sum(deficit, high), -Infinity, 0, 'mEq/kg');
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (sum(deficit, mid) > 0) low = mid;
    else high = mid;
  }
  const ph = (low + high) / 2;
  return {
    ph,
    slope: sum((d, b) => b.slope + d * (2 * (b.curvature ?? 0) + 3 * d * (b.third ?? 0)), ph),
    curvature: sum((d, b) => (b.curvature ?? 0) + 3 * d * (b.third ?? 0), ph),
    third: sum((_, b) => b.third ?? 0, ph),
  };
}
