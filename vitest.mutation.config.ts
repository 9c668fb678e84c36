// What Stryker runs for each mutant: the tests of the interlocks alone, without those that only sample what others enumerate.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/controller/interlocks/**/*.test.ts'],
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
