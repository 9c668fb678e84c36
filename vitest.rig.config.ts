// Whole jobs with the real firmware in the loop: minutes, so they run apart from the suite (`npm run test:rig`).
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    environment: 'node',
    include: ['tests/{rig,package,docs}/**/*.test.ts'],
    testTimeout: 900_000,
    experimental: { viteModuleRunner: false },
  },
});
