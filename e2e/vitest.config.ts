import { defineConfig } from 'vitest/config';

// One worker: two cores carry one browser and one server at a time without waiting for each other.
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['e2e/**/*.e2e.ts'],
    globalSetup: ['e2e/global-setup.ts'],
    fileParallelism: false,
    maxWorkers: 1,
    testTimeout: 180_000,
    hookTimeout: 120_000,
    passWithNoTests: false,
  },
});
