/** What is rarely known of a vessel, estimated from its size and wall. */
import { bareWallU, INSULATED_WALL_U, MATERIALS, vesselHeatCapacity } from '@ladlework/matter';

/** How a wall is built. */
export interface WallBuild {
  /** Thickness of the stainless sheet [mm], 0.3-12. */
  readonly sheetMm: number;
  readonly insulation: 'bare' | keyof typeof INSULATED_WALL_U;
}

/** Content at which a bare wall's loss is taken, the middle of a mash [°C]. */
const CONTENT_C = 65;

/**
 * Heat capacity and loss of an upright round stainless vessel with lid.
 *
 * @param brimL to the brim [L], 1-20 000
 * @param diameterM inner diameter [m], 0.1-4
 * @param build sheet thickness [mm] and insulation; the sheet is wall, bottom and lid
 * @returns wallKJK [kJ/K] and lossWK [W/K] with the content at 65 °C, both to two figures
 * @throws OutOfRange when the sheet would weigh more than 100 t
 * @source geometry of a cylinder; stainless and wall coefficients of the room matter
 * @example estimateVessel(50, 0.4, { sheetMm: 1, insulation: 'bare' }) // { wallKJK: 2.7, lossWK: 8.6 }
 */
export function estimateVessel(
  brimL: number,
  diameterM: number,
  build: WallBuild,
): { wallKJK: number; lossWK: number } {
  const bottomM2 = (Math.PI / 4) * diameterM ** 2;
  const heightM = brimL / 1000 / bottomM2;
  const areaM2 = Math.PI * diameterM * heightM + 2 * bottomM2;
  const massKg = areaM2 * (build.sheetMm / 1000) * MATERIALS.stainless.densityKgM3;
  const u = build.insulation === 'bare' ? bareWallU(CONTENT_C) : INSULATED_WALL_U[build.insulation];
  return {
    wallKJK: twoFigures(vesselHeatCapacity([{ material: 'stainless', massKg }])),
    lossWK: twoFigures(u * areaM2),
  };
}

const twoFigures = (x: number): number => Number(x.toPrecision(2));
