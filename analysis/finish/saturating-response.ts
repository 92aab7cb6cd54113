import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import { scaleOfNoise } from '../statistics/noise-scale.js'
import { quadraticForm } from '../statistics/quadratic-form.js'
import { coverageFactor } from '../statistics/quantiles.js'

/** A response at one amount of what was varied. */
export interface ProcessPoint {
  /** Minutes, J/cm2, hours: 0 is none of it. */
  readonly amount: number
  readonly value: number
  /** k = 1; when all have one the points are weighted by it, and it is raised to the scatter where that is larger. */
  readonly standardUncertainty?: number | undefined
}

export interface SaturatingFit {
  /** Response without any of it. */
  readonly start: Estimate
  /** Change from there to the plateau. */
  readonly change: Estimate
  /** Amount for 1 - 1/e of the change, with its 95 % interval. */
  readonly scale: { readonly value: number; readonly interval: readonly [number, number] }
  /** Least amount that gives 95 % of the change, 3.0 scales, with its 95 % interval. */
  readonly enough: { readonly value: number; readonly interval: readonly [number, number] }
  /** Whether the points reach the whole interval of `enough`; if not, more is an extrapolation. */
  readonly reached: boolean
  /** Standard deviation of the points about the curve. */
  readonly scatter: number
  /** Expected at an amount. */
  readonly at: (amount: number) => Estimate
}

const ENOUGH_SHARE = 0.95

/**
 * A response that levels off: y = y0 + A (1 - exp(-x / s)), by least squares with s on the log scale.
 *
 * First-order conversion with dose (physics of post-cure); the least dose at 95 % of the plateau is s ln 20.
 *
 * @param options.startAt y0 where it is known, such as 0; default: fitted
 * @returns the fit, or a refusal: `too-few-amounts` below one more than parameters, `no-plateau` when the points do not
 *   tell the scale, or what `minimizeSquares` refuses
 * @throws {RangeError} for a negative amount
 */
export function fitSaturation(
  points: readonly ProcessPoint[],
  { startAt }: { readonly startAt?: number } = {},
): Outcome<SaturatingFit> {
  for (const { amount } of points)
    if (!(amount >= 0 && amount < Infinity))
      throw new RangeError(`fitSaturation needs amounts from 0 on, got ${amount}`)
  const free = startAt === undefined ? 3 : 2
  const different = new Set(points.map(({ amount }) => amount)).size
  if (different <= free - 1 || points.length <= free) {
    return refuse(
      'too-few-amounts',
      `Measure at least ${free + 1} coupons at ${free} different amounts, none of it among them.`,
      `${points.length} coupons, ${different} amounts`,
    )
  }
  const weighted = points.every(({ standardUncertainty: u }) => u !== undefined && u > 0)
  const weight = points.map(({ standardUncertainty }) => (weighted ? 1 / standardUncertainty! : 1))
  const start = startOf(points, startAt).slice(0, free)
  const fit = minimizeSquares(
    (p, residuals, jacobian) => {
      const [change, scale, offset] = [p[0]!, Math.exp(p[1]!), free === 3 ? p[2]! : startAt!]
      for (const [i, { amount, value }] of points.entries()) {
        const left = Math.exp(-amount / scale)
        residuals[i] = (offset + change * (1 - left) - value) * weight[i]!
        jacobian[i * free] = (1 - left) * weight[i]!
        jacobian[i * free + 1] = -((change * left * amount) / scale) * weight[i]!
        if (free === 3) jacobian[i * free + 2] = weight[i]!
      }
    },
    start,
    points.length,
  )
  if (!fit.ok) return noPlateau(fit.refusal.detail ?? fit.refusal.code)
  const { parameters, unscaledCovariance, rss } = fit.value
  const residualFreedom = fit.value.degreesOfFreedom
  const { varianceFactor, degreesOfFreedom } = scaleOfNoise(rss, residualFreedom, weighted ? 'larger' : 'scatter')
  const covariance = start.map((_, i) => start.map((__, j) => varianceFactor * unscaledCovariance[i * free + j]!))
  const u = (j: number) => Math.sqrt(covariance[j]![j]!)
  const logScale = parameters[1]!
  const most = Math.max(...points.map(({ amount }) => amount))
  const halfWidth = coverageFactor(degreesOfFreedom) * u(1)
  // A factor of a thousand either way, or a scale far past the points: a straight line would do as well.
  if (!(halfWidth < Math.log(1000)) || Math.exp(logScale) > 20 * most) return noPlateau('the points do not bend')
  const times = (factor: number) => ({
    value: factor * Math.exp(logScale),
    interval: [factor * Math.exp(logScale - halfWidth), factor * Math.exp(logScale + halfWidth)] as const,
  })
  const enough = times(-Math.log(1 - ENOUGH_SHARE))
  return {
    ok: true,
    value: {
      start: startAt === undefined ? makeEstimate(parameters[2]!, u(2), degreesOfFreedom) : makeEstimate(startAt, 0),
      change: makeEstimate(parameters[0]!, u(0), degreesOfFreedom),
      scale: times(1),
      enough,
      reached: enough.interval[1] <= most,
      at: (amount) => {
        const [scale, change] = [Math.exp(logScale), parameters[0]!]
        const left = Math.exp(-amount / scale)
        const slopes = [1 - left, (-change * left * amount) / scale, 1].slice(0, free)
        const value = (startAt ?? parameters[2]!) + change * (1 - left)
        return makeEstimate(value, Math.sqrt(quadraticForm(covariance, slopes)), degreesOfFreedom)
      },
      scatter: Math.sqrt((weighted ? unweightedRss(points, parameters, startAt) : rss) / residualFreedom),
    },
  }
}

const noPlateau = (detail: string) =>
  refuse(
    'no-plateau',
    'Measure more coupons, some with much more of it: these do not show where it levels off.',
    detail,
  )

/** Change, log of the scale and start, from the ends: half the change by the middle amount. */
function startOf(points: readonly ProcessPoint[], startAt: number | undefined): number[] {
  const sorted = [...points].sort((a, b) => a.amount - b.amount)
  const [first, last] = [sorted[0]!, sorted.at(-1)!]
  const offset = startAt ?? first.value
  const change = last.value - offset || 1
  const half = sorted.find(({ value }) => (value - offset) / change >= 0.6) ?? last
  return [change, Math.log(Math.max(half.amount, last.amount / 20)), offset]
}

function unweightedRss(points: readonly ProcessPoint[], p: Float64Array, startAt: number | undefined): number {
  return points.reduce((sum, { amount, value }) => {
    return sum + ((startAt ?? p[2]!) + p[0]! * -Math.expm1(-amount / Math.exp(p[1]!)) - value) ** 2
  }, 0)
}
