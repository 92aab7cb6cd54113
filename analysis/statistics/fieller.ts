/** A straight line and the covariance of its coefficients. */
export interface UncertainLine {
  readonly intercept: number
  readonly slope: number
  readonly interceptVariance: number
  readonly slopeVariance: number
  readonly covariance: number
}

/**
 * All x that the line may pass through zero at, with the stated confidence.
 *
 * - `bounded`: from low to high; one of them is infinite when the slope is exactly at the edge of significance
 * - `disjoint`: up to below and from above, but not between
 * - `everything`: the data exclude no x at all
 */
export type FiellerSet =
  | { readonly kind: 'bounded'; readonly low: number; readonly high: number }
  | { readonly kind: 'disjoint'; readonly below: number; readonly above: number }
  | { readonly kind: 'everything' }

/**
 * Fieller's confidence set for the x at which a fitted line a + b x is zero.
 *
 * The set {x : (a + b x)^2 <= t^2 var(a + b x)}, where
 *
 *   (b^2 - t^2 vb) x^2 + 2 (a b - t^2 cab) x + (a^2 - t^2 va) <= 0
 *
 * It is an interval only if the slope differs from zero at the same confidence (b^2 > t^2 vb). Unlike first-order
 * propagation it is exact for normal errors and need not be symmetric about -a/b. For another target subtract it from
 * the intercept.
 *
 * @param coverageFactor t, for instance 2.306 for 95 % on 8 degrees of freedom
 * @see E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175 [from memory]; checked against a worked example, see its test
 * @example solveFieller({ intercept: -2, slope: 1, interceptVariance: 0.01, slopeVariance: 0, covariance: 0 }, 2)
 * // { kind: 'bounded', low: 1.8, high: 2.2 }
 */
export function solveFieller(line: UncertainLine, coverageFactor: number): FiellerSet {
  const { intercept: a, slope: b } = line
  const t2 = coverageFactor ** 2
  const quadratic = b ** 2 - t2 * line.slopeVariance
  const half = a * b - t2 * line.covariance
  const constant = a ** 2 - t2 * line.interceptVariance
  const discriminant = half ** 2 - quadratic * constant
  if (quadratic <= 0 && discriminant <= 0) return { kind: 'everything' }

  // Written so that neither root is a difference of nearly equal numbers. With a zero quadratic term one is infinite.
  const q = -(half + (half < 0 ? -1 : 1) * Math.sqrt(Math.max(0, discriminant)))
  const roots = [q / quadratic, q === 0 ? 0 : constant / q]
  const [low, high] = [Math.min(...roots), Math.max(...roots)]
  return quadratic >= 0 ? { kind: 'bounded', low, high } : { kind: 'disjoint', below: low, above: high }
}
