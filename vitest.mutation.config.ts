import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: [
      'tests/controller/interlocks/**/*.test.ts',
      'tests/controller/{unknown,by-hand}.test.ts',
    ],
    exclude: ['tests/controller/interlocks/proof/point-by-point.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
  },
});
