// Prints the one closing line `N passed, N failed` from what the gate left in .cache/, given the gate's exit code.
// A failed check counts as a failure, and so does a gate that never came to its tests.
import { existsSync, readFileSync } from 'node:fs'

const exitCode = Number(process.argv[2] ?? 1)
const read = (path) => (existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : undefined)
const tests = read('.cache/vitest.json')
const checks = (read('.cache/gate.json')?.failed ?? []).filter((name) => name !== 'tests')

const passed = tests?.numPassedTests ?? 0
const skipped = (tests?.numPendingTests ?? 0) + (tests?.numTodoTests ?? 0)
// A file that fails to load fails without a test of its own.
const unloaded = (tests?.testResults ?? []).filter(
  (file) => file.status === 'failed' && file.assertionResults.length === 0,
)
const counted = (tests?.numFailedTests ?? 0) + unloaded.length + checks.length
const failed = counted === 0 && (exitCode !== 0 || passed === 0) ? 1 : counted

console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`)
process.exitCode = failed === 0 ? 0 : 1
