import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/tmp/**'],
    testTimeout: 30_000,
    hookTimeout: 120_000,
  },
});
