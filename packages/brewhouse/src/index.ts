export * from './draw.ts';
export * from './kit.ts';
export * from './moves.ts';
export * from './situation.ts';
export * from './trace.ts';
