// What Stryker runs for every mutant of the whole controller: its own tests without the longest.
import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** The first test that fails ends the run of a mutant: scripted jobs come after what looks at single scans. */
class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isScripted = ({ moduleId }: TestSpecification): boolean =>
      readFileSync(moduleId, 'utf8').includes('support/bench.ts');
    return [...files.filter((file) => !isScripted(file)), ...files.filter(isScripted)];
  }
}

export default defineConfig({
  test: {
    include: [
      'tests/controller/*.test.ts',
      'tests/controller/estimates/*.test.ts',
      'tests/controller/stages/*.test.ts',
      'tests/sequence/*.test.ts',
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
