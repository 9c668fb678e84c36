// Jobs with the real firmware in the loop, killed processes, cuts in every stage: minutes, so they run apart from the suite
// (`npm run test:rig`).
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** What takes minutes begins first, so that no processor is left alone with it at the end. */
const LONG = ['planted', 'snippets', 'whole-job', 'resumed-job', 'serial-board'];

const rank = ({ moduleId }: TestSpecification): number => {
  const at = LONG.findIndex((name) => moduleId.includes(`/${name}.test.ts`));
  return at === -1 ? LONG.length : at;
};

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return [...files].sort((one, other) => rank(one) - rank(other));
  }
}

export default defineConfig({
  test: {
    environment: 'node',
    globalSetup: 'tests/run-folder.ts',
    include: ['tests/{rig,package,docs}/**/*.test.ts'],
    testTimeout: 900_000,
    sequence: { sequencer: LongestFirst },
    experimental: { viteModuleRunner: false },
  },
});
