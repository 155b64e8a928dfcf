export { type CalendarOptions, calendarOf } from './calendar.ts';
export type { TimetableClash } from './clash.ts';
export type { Course, CourseLine } from './course.ts';
export type { DayAsk } from './day-problem.ts';
export { type ParkTemperature, type ParkWish, parkTemperature } from './heat-time.ts';
export type { BrewChoice } from './liquor-ways.ts';
export { type DayStrip, dayStrip, handList, type StripBar, type StripRow } from './lists.ts';
export type { NeedKind, TimetableProblem } from './problem.ts';
export { type MoveAhead, type Moved, type Progress, type Replan, replan } from './replan.ts';
export { dayStretch, restStretch } from './rest-stretch.ts';
export type { Robust } from './robust.ts';
export type { Budget as SearchBudget, LevelResult } from './search.ts';
export { dayFrom } from './shift-day.ts';
export { type Solved as SolvedProblem, solve as solveTimetable } from './solve.ts';
export {
  type HandDay,
  type Park,
  type Timetable,
  type TimetableActivity,
  type TimetableOptions,
  timetableOf,
  type VesselHold,
} from './timetable-of.ts';
export { TYPICAL_WORK, type Work, wortLitres } from './work.ts';
