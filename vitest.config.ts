import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Left to itself vitest keeps one core free, which on two cores is half of them.
    maxWorkers: '100%',
  },
});
