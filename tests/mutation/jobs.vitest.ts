// What Stryker runs for the mutants that the controller's own tests leave: whole jobs on the simulated bench, the quicker ones.
import { defineConfig } from 'vitest/config';

const JOBS = [
  'air-purge',
  'assist',
  'blind-vacuum',
  'by-hand',
  'charge-shut',
  'dip-tube',
  'dye',
  'engine',
  'engine-started',
  'fill-tank',
  'grams',
  'leak-check',
  'left-off',
  'one-port',
  'power-cuts',
  'recovery',
  'repair',
  'situations',
  'situations-of-the-trade',
  'swapped-and-wrong',
  'warm-up',
];

export default defineConfig({
  test: {
    include: JOBS.map((name) => `tests/acceptance/${name}.test.ts`),
    environment: 'node',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
