import standardNormalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import studentCdf from '@stdlib/stats-base-dists-t-cdf'
import { clusterOf, type GrowthRung } from './coupon-readings.js'
import { findDoseToSize, type DoseToSize } from './dose-to-size.js'
import { fitGrowth, type GrowthFit, type GrowthModel } from './growth-fit.js'
import { SHAPES } from './growth-shape.js'
import { quadraticForm } from '../statistics/quadratic-form.js'

export interface OutlyingRung {
  readonly rung: GrowthRung
  /** Measured less what the other rungs predict, um. */
  readonly offUm: number
  /** That over its uncertainty, as a standard normal deviate, at most 7.9: the externally studentised residual. */
  readonly studentised: number
  /** What it exceeds: chance exceeds it somewhere on about 5 % of ladders. */
  readonly limit: number
  /** Dose-to-size from the other rungs; absent when they give none. */
  readonly doseToSizeWithout?: DoseToSize
}

/** Chance of pointing at a good rung, per ladder. */
const FALSE_ALARMS = 0.05
const FEWEST_LEFT = 3

/**
 * Rungs that the others contradict.
 *
 * Each rung is left out in turn, the models fitted anew to the rest, and the rung compared with what they predict: the
 * tail of Student's t at d / u(d), u from the rung's own uncertainty, the spread between coupons and the prediction,
 * averaged over the models with their Akaike weights. The limit is 5 % over the number of rungs (Bonferroni). Nothing is
 * dropped: a printing fault and the only true reading look alike from here.
 *
 * @returns the rungs beyond the limit, in order of exposure; none where fewer than three exposures would be left
 * @see R. D. Cook, S. Weisberg, Residuals and Influence in Regression (Chapman and Hall 1982) 2.2 [from memory]
 */
export function findOutlyingRungs(fit: GrowthFit): OutlyingRung[] {
  return fit.rungs.flatMap((rung, i) => {
    const others = fit.rungs.filter((_, j) => j !== i)
    const exposures = new Set(others.map(({ exposureS }) => exposureS)).size
    if (exposures < FEWEST_LEFT) return []
    const rest = fitGrowth(others, { commonUncertaintyUm: fit.commonUncertaintyUm })
    if (!rest.ok) return []
    const judged = studentise(rung, rest.value)
    const limit = -standardNormalQuantile(FALSE_ALARMS / 2 / fit.rungs.length, 0, 1)
    if (Math.abs(judged.studentised) <= limit) return []
    const without = findDoseToSize(rest.value)
    return [{ rung, ...judged, limit, ...(without.ok ? { doseToSizeWithout: without.value } : {}) }]
  })
}

/** Below it the normal quantile is lost in rounding: no deviate beyond 7.9 is told. */
const LEAST_TAIL = 1e-15

function studentise(rung: GrowthRung, rest: GrowthFit): { offUm: number; studentised: number } {
  const u = Math.log(rung.exposureS / rest.referenceS)
  const { offUm } = compare(rung, rest.chosen, u)
  const sign = Math.sign(offUm)
  const tail = rest.candidates.reduce((sum, model) => {
    const compared = compare(rung, model, u)
    const t = -sign * (compared.offUm / compared.uncertaintyUm)
    // A threshold model has no growth below its critical exposure.
    return Number.isFinite(t) ? sum + model.weight * studentCdf(t, model.degreesOfFreedom ?? 1e6) : sum + model.weight
  }, 0)
  return { offUm, studentised: -sign * standardNormalQuantile(Math.max(LEAST_TAIL, Math.min(0.5, tail)), 0, 1) }
}

function compare(rung: GrowthRung, model: GrowthModel, u: number): { offUm: number; uncertaintyUm: number } {
  const { offsets, parameters, covariance, spreadUm2 } = model
  const shape = SHAPES[model.model]
  const { y, variances, sharedVariance, design } = clusterOf(rung, offsets, shape.gradient(parameters, u))
  const total = variances.reduce((sum, variance) => sum + 1 / variance, 0)
  // The level of the coupon: its gratings weighted by 1/u^2.
  const weighted = (values: readonly number[]) =>
    values.reduce((sum, value, m) => sum + value / variances[m]! / total, 0)
  const direction = parameters.map((_, j) => weighted(design.map((row) => row[j]!)))
  const known = shape.parameterCount
  const offsetUm = direction.slice(known).reduce((sum, value, j) => sum + value * parameters[known + j]!, 0)
  const offUm = weighted(y) - shape.growthUm(parameters, u) - offsetUm
  const variance = 1 / total + sharedVariance + spreadUm2 + quadraticForm(covariance, direction)
  return { offUm, uncertaintyUm: Math.sqrt(variance) }
}
