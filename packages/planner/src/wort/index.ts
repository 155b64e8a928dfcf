export * from './day-types.ts';
export * from './plan-of.ts';
export * from './plan-types.ts';
