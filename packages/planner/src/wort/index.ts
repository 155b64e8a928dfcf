export * from './attenuation.ts';
export * from './cast-out.ts';
export { wortDay } from './day.ts';
export * from './day-types.ts';
export { liquorPlan } from './liquor-plan.ts';
export { mashAhead } from './mash-ahead.ts';
export { dmsCaution, type WortPlanOptions, wortPlan } from './plan-of.ts';
export * from './plan-types.ts';
