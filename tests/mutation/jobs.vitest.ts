// What Stryker runs for the mutants that the controller's own tests have left: the quicker whole jobs.
import { defineConfig } from 'vitest/config';

/** One job passes through every stage in a third of a second. */
const JOBS = [
  'engine',
  'engine-started',
  'situations',
  'one-port',
  'leak-check',
  'dye',
  'fill-tank',
  'warm-up',
  'recovery',
  'charge-shut',
  'assist',
  'air-purge',
  'repair',
  'dip-tube',
  'left-off',
];

export default defineConfig({
  test: {
    include: JOBS.map((name) => `tests/acceptance/${name}.test.ts`),
    environment: 'node',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
