export * from './compare/index.ts';
export * from './day.ts';
export * from './document.ts';
export * from './document-beer.ts';
export * from './ensemble.ts';
export * from './enzyme-clock.ts';
export * from './grist.ts';
export * from './late-return.ts';
export * from './live.ts';
export { aheadOf, type DayAhead } from './live-ahead.ts';
export { applyEntry } from './live-apply.ts';
export { forecastDay, remainingMoves } from './live-forecast.ts';
export { type VesselNow, vesselsNow } from './live-going-on.ts';
export { type GuideRequest, guideReturn } from './live-guide.ts';
export { type DayKeeper, keepDay } from './live-keeper.ts';
export { forecastLanding } from './live-landing.ts';
export { type MashNow, mashNow, rescueNow } from './live-mash.ts';
export { repairsFor } from './live-repairs.ts';
export type { PullGroup } from './live-returns.ts';
export {
  type DayOptions,
  type DaySession,
  minuteOf,
  openDay,
  type Underway,
} from './live-session.ts';
export type { Particle } from './live-step.ts';
export { type WideLanding, wideLanding } from './live-wide.ts';
export { readingsWorth } from './live-worth.ts';
export * from './lot-worth.ts';
export { MASH_FIGURES, type MashBand, type MashFigure } from './mash-bands.ts';
export type { Miss, MissCode, MissEntry } from './miss/miss-types.ts';
export { playWay, type WayBench } from './miss/play-way.ts';
export type * from './miss/way-types.ts';
export { inOrder, missBench, waysFor } from './miss/ways.ts';
export * from './moves-of.ts';
export * from './plan.ts';
export * from './plan-day.ts';
export * from './rehearse/index.ts';
export * from './rest-advice.ts';
export { type ReturnNeed, type ReturnRuler, returnRulers } from './return-ruler.ts';
export * from './search/index.ts';
export * from './size.ts';
export * from './stages.ts';
export * from './starch.ts';
export * from './tasting/index.ts';
export * from './textbook.ts';
export * from './timetable/index.ts';
export { landingOnUnknownKit, type UnknownPull, unknownKit } from './unknown-kit.ts';
export * from './wort/index.ts';
export { outsideReasons } from './wort.ts';
