export * from './document.ts';
export * from './live.ts';
export * from './plan.ts';
