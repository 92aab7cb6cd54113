import standardNormalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/**
 * Quantile of Student's t distribution; of the normal distribution when the degrees of freedom are infinite.
 *
 * @param probability above 0 and below 1
 * @param degreesOfFreedom above 0, need not be whole
 * @throws {RangeError} outside these ranges
 * @example studentQuantile(0.975, 8) // 2.306
 */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`studentQuantile needs a probability above 0 and below 1, got ${probability}`)
  }
  if (!(degreesOfFreedom > 0)) {
    throw new RangeError(`studentQuantile needs degrees of freedom above 0, got ${degreesOfFreedom}`)
  }
  // From a million degrees of freedom on the two distributions agree to 1e-6.
  if (degreesOfFreedom > 1e6) return standardNormalQuantile(probability, 0, 1)
  return tQuantile(probability, degreesOfFreedom)
}

/**
 * Coverage factor of a two-sided interval, value +- k u.
 *
 * @param degreesOfFreedom of u; `undefined` means infinite, as in an {@link Estimate}
 * @param coverage probability inside the interval, default 0.95
 * @example coverageFactor(8) // 2.306
 * @example coverageFactor(undefined) // 1.960
 */
export function coverageFactor(degreesOfFreedom: number | undefined, coverage = 0.95): number {
  return studentQuantile((1 + coverage) / 2, degreesOfFreedom ?? Infinity)
}
