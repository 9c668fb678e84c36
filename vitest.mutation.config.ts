// What Stryker runs for each mutant: the tests of the interlocks and of their pages, without those that only sample what others enumerate.
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** The first test that fails ends the run of a mutant: those of texts and rows come first, those that take seconds last. */
const ORDER = ['reason', 'every-row', 'rows', 'bands', 'memory', 'watch', 'pages', 'exhaustive'];

class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => ORDER.findLastIndex((name) => moduleId.includes(name));
    return files.toSorted((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  test: {
    include: ['tests/controller/interlocks/**/*.test.ts', 'tests/hazards/pages.test.ts'],
    sequence: { sequencer: QuickFirst },
    exclude: [
      '**/point-by-point.test.ts',
      '**/forbidden.test.ts',
      '**/overlap.test.ts',
      '**/band-sources.test.ts',
    ],
    testNamePattern: /^(?!The proof can fail)/,
    environment: 'node',
    testTimeout: 60_000,
  },
});
