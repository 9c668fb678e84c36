// The page in a real browser, and every lesson's job: minutes, so they run apart from the suite (`npm run test:page`).
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    environment: 'node',
    globalSetup: 'tests/run-folder.ts',
    include: ['tests/page/**/*.test.ts'],
    testTimeout: 180_000,
    hookTimeout: 120_000,
    maxWorkers: 1,
    experimental: { viteModuleRunner: false },
  },
});
