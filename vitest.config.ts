import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    pool: 'forks',
    maxWorkers: 2,
    // A photograph takes seconds to measure, and several do so at once.
    testTimeout: 240_000,
    hookTimeout: 240_000,
  },
})
