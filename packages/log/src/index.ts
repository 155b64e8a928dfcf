export {
  type BrewState,
  type CallState,
  foldBrew,
  foldBrews,
  type Mark,
  type MendState,
  type MissState,
  type MoveState,
  type NoteState,
  type ReadingState,
} from './brew.ts';
export { type Conflict, SAME_MOMENT_MS } from './conflict.ts';
export { recordCsv } from './csv.ts';
export {
  FOLLOWS_WITHIN_MIN,
  followsOn,
  inDayOrder,
  isCarrying,
  isPassive,
} from './day-order.ts';
export * from './event.ts';
export * from './names.ts';
export { canonicalJson, compareEvents, mergeEvents, sameContent } from './order.ts';
export * from './probe.ts';
export { judgeProbe, type ProbeContext, type ProbeState, trustedSamples } from './probe-judge.ts';
export { type KeptRow, type ProbeSample, RowMaker, samplesOf, thinned } from './probe-rows.ts';
export { checkReading, type ReadingCheck, type ReadingContext, readingSd } from './reading.ts';
export { type RecordQuantity, type RecordRow, recordOf } from './record.ts';
export { type Past, type Settled, type SettledEvent, settle, type Unapplied } from './settle.ts';
export {
  findBox,
  type SheetBox,
  sheetBoxes,
  sheetMark,
  sheetVolumeL,
  type WortFigure,
} from './sheet-box.ts';
export { foldBeers, foldKits, type Shelved, type ShelvedBeer } from './shelf.ts';
export type {
  PlanSummary,
  SummaryBand,
  SummaryMove,
  SummaryReturn,
  SummaryWort,
} from './summary.ts';
