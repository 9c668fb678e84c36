// What Stryker runs for the mutants of the whole controller: its own tests, without the longest.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: [
      'tests/controller/*.test.ts',
      'tests/controller/estimates/*.test.ts',
      'tests/controller/stages/*.test.ts',
      'tests/sequence/*.test.ts',
    ],
    exclude: ['**/halts.test.ts', '**/garbage.test.ts', '**/hundred-thousand.test.ts'],
    environment: 'node',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
