export { type TasterSheet, type TastingSheet, type TastingWish, tastingSheet } from './sheet.ts';
export {
  type TastingResult,
  type TriangleWish,
  tastingResult,
  triangleChance,
  triangleCritical,
  trianglePower,
  triangleTasters,
} from './triangle.ts';
