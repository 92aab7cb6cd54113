import { defineConfig } from 'vitest/config'

const all = 'tests/**/*.test.{ts,tsx}'
const onPostgresOnly = 'tests/server/postgres/**/*.test.ts'
/** What the gate runs a second time, on PostgreSQL. With STORE=postgres it is every test of the server instead. */
const onBoth = [
  ...['all-or-nothing', 'archive', 'combined', 'finish/ageing', 'ladders', 'left-out', 'readings', 'records'],
  ...['restart', 'search-ladders', 'uploads', 'waiting'],
]
/** About data folders, not about what is in them, or without either. */
const ofFolders = ['backup', 'broken-disk', 'cli', 'migrations', 'printables/*', 'serve']
const whole = process.env['STORE'] === 'postgres'

export default defineConfig({
  test: {
    pool: 'forks',
    maxWorkers: 2,
    // A photograph takes seconds to measure, and several do so at once.
    testTimeout: 240_000,
    // Nor is a second long enough for a browser beside all that.
    expect: { poll: { timeout: 15_000 } },
    hookTimeout: 240_000,
    projects: [
      { extends: true, test: { name: 'everything', include: whole ? [] : [all], exclude: [onPostgresOnly] } },
      {
        extends: true,
        test: {
          name: 'PostgreSQL',
          exclude: [`tests/server/{${ofFolders.join()}}.test.ts`],
          include: whole ? ['tests/server/**/*.test.ts'] : [onPostgresOnly, `tests/server/{${onBoth.join()}}.test.ts`],
          env: { STORE: 'postgres' },
          globalSetup: 'tests/support/with-postgres.ts',
          setupFiles: 'tests/server/support/need-database.ts',
        },
      },
    ],
  },
})
