export * from './document.ts';
export * from './plan.ts';
export * from './live.ts';
