// One quick test that touches nothing of the controller: Stryker lists mutants only where it has one to run.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['tests/app/nearest.test.ts'], environment: 'node' },
});
