import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { fitLinear } from '../statistics/linear-least-squares.js'
import { quadraticForm } from '../statistics/quadratic-form.js'
import { spreadBetween, whiten, type Cluster } from '../statistics/random-effect.js'

/** A response at an amount of what was varied. */
export interface TrendPoint {
  readonly amount: number
  readonly value: number
  /** Of the value by itself, above 0. */
  readonly standardUncertainty: number
  readonly coupon: string
  readonly photo: string
  /** What its photograph adds to all its coupons alike. */
  readonly photoUncertainty: number
}

export interface ProcessTrend {
  /** Change of the response per unit. */
  readonly slope: Estimate
  /** Expected of a coupon like the mean of these, at an amount. */
  readonly at: (amount: number) => Estimate
}

/**
 * Trend of a response with an amount, by generalised least squares: value = level + slope amount.
 *
 *   covariance of two readings = u_i^2 (if the same) + (p^2 + s^2) (if on one photograph)
 *
 * u stated of each reading, p stated of its photograph, s^2 what photographs scatter beyond that (REML). All is raised
 * to the scatter of the readings where that is larger. Coupons that are read at several amounts, as when the same ones are photographed again
 * later, each have a level of their own. Where amounts differ between photographs only and these scatter more than stated, the
 * slope has as many degrees of freedom as photographs less two; two photographs cannot show scatter, what they state stands alone.
 *
 * What a reading's stated uncertainty shares with the others of its photograph is not known and taken as its own: on the
 * path-traced samples haze errs by 0.016 to 0.023 from coupon to coupon where 0.017 to 0.047 is stated.
 *
 * @returns the trend, or a refusal: `one-amount`, or those of `fitLinear`
 * @see A. C. Aitken, Proc. R. Soc. Edinb. 55 (1935) 42: generalised least squares [from memory]; `random-effect.ts`;
 *   coverage of its interval in `tests/analysis/finish/process-trend.test.ts`
 */
export function fitProcessTrend(points: readonly TrendPoint[]): Outcome<ProcessTrend> {
  const amounts = points.map(({ amount }) => amount)
  if (new Set(amounts).size < 2)
    return refuse('one-amount', 'Measure coupons at two different amounts or more.', `${points.length} readings`)
  const middle = amounts.reduce((sum, amount) => sum + amount, 0) / amounts.length
  const levels = levelsOf(points)
  const rowOf = ({ amount, coupon }: TrendPoint) => [...levels.map((one) => (one === coupon ? 1 : 0)), amount - middle]
  const photos = [...new Set(points.map(({ photo }) => photo))]
  const clusters = photos.map((photo): Cluster => {
    const here = points.filter((one) => one.photo === photo)
    return {
      y: here.map(({ value }) => value),
      variances: here.map(({ standardUncertainty: u }) => u ** 2),
      sharedVariance: here[0]!.photoUncertainty ** 2,
      design: here.map(levels.length > 0 ? rowOf : ({ amount }) => [1, amount - middle]),
    }
  })
  const between = photos.every(
    (photo) => new Set(points.flatMap((one) => (one.photo === photo ? one.amount : []))).size === 1,
  )
  const spread = photos.length > 2 ? spreadBetween(clusters) : 0
  const { y, design } = whiten(clusters, spread)
  const fit = fitLinear(
    design,
    y,
    y.map(() => 1),
  )
  if (!fit.ok) return fit
  const { coefficients, covariance, degreesOfFreedom = Infinity } = fit.value
  const freedom = between && spread > 0 ? Math.min(degreesOfFreedom, photos.length - 2) : degreesOfFreedom
  const last = coefficients.length - 1
  return {
    ok: true,
    value: {
      slope: makeEstimate(coefficients[last]!, Math.sqrt(covariance[last]![last]!), freedom),
      at: (amount) => {
        const row = [...Array.from({ length: last }, () => 1 / last), amount - middle]
        const value = row.reduce((sum, x, j) => sum + x * coefficients[j]!, 0)
        return makeEstimate(value, Math.sqrt(quadraticForm(covariance, row)), freedom)
      },
    },
  }
}

/** Coupons that need a level of their own: all, once one of them is read at several amounts. */
function levelsOf(points: readonly TrendPoint[]): string[] {
  const coupons = [...new Set(points.map(({ coupon }) => coupon))]
  const again = coupons.some(
    (coupon) => new Set(points.flatMap((one) => (one.coupon === coupon ? one.amount : []))).size > 1,
  )
  return again ? coupons : []
}
