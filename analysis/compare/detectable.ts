import { studentQuantile } from '../statistics/quantiles.js'
import { simultaneousFactor, type Family } from '../statistics/simultaneous.js'

/** How well a difference between two groups is known, and what it is made of. */
export interface DifferenceDesign extends Family {
  /** Variance from scatter between coupons; falls as coupons are added. */
  readonly scatterVariance: number
  /** Variance that more coupons on the same photographs leave as it is. */
  readonly fixedVariance: number
  /** Coupons of each group, harmonic mean where they differ. */
  readonly coupons: number
}

const MOST_COUPONS = 1000

/**
 * Smallest true difference that such a comparison shows with the wanted chance.
 *
 *   difference = (k + t(power, nu)) u
 *
 * k the factor that the comparison's intervals use. Exact would be the noncentral t: against R's power.t.test (5 %, two
 * groups, power 80 and 95 %) this is 5 and 7 % low for 2 coupons each, and within 1.2 % from 3 on.
 *
 * @param power chance of showing it, above 0 and below 1
 * @see NIST/SEMATECH e-Handbook of Statistical Methods 7.2.2.2 (sample sizes from t quantiles) [from memory]
 */
export function smallestDetectable(design: DifferenceDesign, power: number): number {
  const u = Math.sqrt(design.scatterVariance + design.fixedVariance)
  return (simultaneousFactor(design) + studentQuantile(power, design.degreesOfFreedom ?? Infinity)) * u
}

/**
 * Coupons of each group with which a difference of the wanted size shows with the wanted chance, spread over
 * photographs and bottles as those at hand are.
 *
 * Scatter variance falls as 1/n; degrees of freedom grow as n - 1, which is exact for two groups of like scatter.
 *
 * @returns at least 2; `undefined` when what coupons do not average away is too large, or with one coupon a group,
 *   whose scatter nobody knows
 */
export function couponsNeeded(design: DifferenceDesign, wanted: number, power: number): number | undefined {
  const { coupons, degreesOfFreedom, scatterVariance } = design
  if (!(coupons > 1)) return undefined
  const shows = (n: number) =>
    smallestDetectable(
      {
        ...design,
        scatterVariance: (scatterVariance * coupons) / n,
        degreesOfFreedom: degreesOfFreedom === undefined ? undefined : (degreesOfFreedom * (n - 1)) / (coupons - 1),
      },
      power,
    ) <= wanted
  if (!shows(MOST_COUPONS)) return undefined
  let [low, high] = [1, MOST_COUPONS]
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (shows(middle)) high = middle
    else low = middle
  }
  return high
}
