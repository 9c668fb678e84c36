// What Stryker runs for the mutants of the whole controller: its own tests without the longest, and the quicker whole jobs.
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

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

/** The first test that fails ends the run of a mutant: what is quick for what it sees comes first. */
const ORDER = ['/controller/estimates/', '/acceptance/', '/controller/stages/'];

class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => ORDER.findIndex((part) => moduleId.includes(part));
    return files.toSorted((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  test: {
    include: [
      'tests/controller/*.test.ts',
      'tests/controller/estimates/*.test.ts',
      'tests/controller/stages/*.test.ts',
      'tests/sequence/*.test.ts',
      ...JOBS.map((name) => `tests/acceptance/${name}.test.ts`),
    ],
    exclude: [
      '**/halts.test.ts',
      '**/garbage.test.ts',
      '**/hundred-thousand.test.ts',
      '**/whole-job.test.ts',
    ],
    sequence: { sequencer: QuickFirst },
    environment: 'node',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
