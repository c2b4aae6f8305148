import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Files share their worker's modules: reading them anew for each took a quarter of the time. No test changes what another reads.
    isolate: false,
    // Left to itself vitest keeps one core free, which on two cores is half of them.
    maxWorkers: '100%',
  },
});
