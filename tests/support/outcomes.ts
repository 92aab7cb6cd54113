import type { Outcome } from '../../analysis/outcome.js'

/** The value of an outcome; a refusal fails the test with its reason. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  const { code, advice, detail } = outcome.refusal
  throw new Error(`refused as ${code}: ${advice} (${detail ?? 'no detail'})`)
}

export function relativeError(got: number, expected: number): number {
  return Math.abs(got / expected - 1)
}
