import { defineConfig } from 'vitest/config';

// The quick tests: unit, property, reference and server. The browser journeys have their own
// configuration in e2e/, because they need the built page and one browser at a time.
export default defineConfig({
  test: {
    include: [
      '{packages,apps}/*/src/**/*.test.{ts,tsx}',
      'scripts/**/*.test.ts',
      'bench/**/*.test.ts',
    ],
    // Property tests draw many cases and CI has two shared cores; nothing here measures time.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    passWithNoTests: false,
  },
});
