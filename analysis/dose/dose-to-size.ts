import { refuse, type Outcome } from '../outcome.js'
import { solveFieller, type FiellerSet } from '../statistics/fieller.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { bisect, intervalsAtMostZero } from '../statistics/sign-intervals.js'
import { evaluateGrowth, growthAt, quadraticForm, rungRangeS, type GrowthFit } from './growth-fit.js'

/** Exposures that the data allow for one growth. */
export interface ExposureInterval {
  /** 95 %, s; cut at the outermost rungs. */
  readonly intervalS: readonly [number, number]
  /** Ends at which the interval was cut: it may go on beyond the rung, where nothing was measured. */
  readonly reachesEnd: { readonly low: boolean; readonly high: boolean }
  /** Whether the exposures that the data allow hang together; if not, the interval spans all the pieces. */
  readonly shape: 'one-piece' | 'in-pieces'
  /** t of the interval. */
  readonly coverageFactor: number
  readonly inWords: string
}

export interface DoseToSize extends ExposureInterval {
  readonly exposureS: number
  /** Relative standard uncertainty of the exposure to first order: u(growth) / slope. */
  readonly relativeStandardUncertainty: number
  /** um of growth per unit of ln(exposure), at this exposure. */
  readonly slopeUm: number
}

export interface DoseToSizeOptions {
  /** Growth per side to aim at, um. Default 0: lines as drawn. */
  readonly targetGrowthUm?: number
}

/**
 * Dose-to-size: the exposure at which the fitted growth is zero, with its 95 % interval.
 *
 * @returns dose-to-size, or a refusal. `flat`: growth does not rise with exposure at 95 %, so that Fieller's set is not
 *   an interval; the detail says in words what it is. `wrong-sign`: growth falls, at 95 %. `not-bracketed-low`,
 *   `not-bracketed-high`: the exposure lies below the lowest or above the highest rung; the fit is not extrapolated.
 * @example findDoseToSize(fit) // 2.69 s, [2.60, 2.81] for the example of fitGrowth
 */
export function findDoseToSize(fit: GrowthFit, { targetGrowthUm = 0 }: DoseToSizeOptions = {}): Outcome<DoseToSize> {
  const ends = rungRangeS(fit)
  const [uLow, uHigh] = ends.map((exposureS) => Math.log(exposureS / fit.referenceS)) as [number, number]
  const refusal = refuseUnlessRising(fit, uLow, uHigh, targetGrowthUm)
  if (refusal) return refusal

  const excess = (u: number) => evaluateGrowth(fit.chosen, u).growthUm - targetGrowthUm
  if (excess(uLow) > 0) return notBracketed(fit, 'low', ends[0])
  if (excess(uHigh) < 0) return notBracketed(fit, 'high', ends[1])

  // Growth rises all the way, so it crosses the target once.
  const answer = bisect(excess, uLow, uHigh)
  const exposureS = Math.exp(answer) * fit.referenceS
  const { slopeUm } = evaluateGrowth(fit.chosen, answer)
  return {
    ok: true,
    value: {
      exposureS,
      ...findExposureInterval(fit, exposureS),
      relativeStandardUncertainty: growthAt(fit, exposureS).standardUncertainty / slopeUm,
      slopeUm,
    },
  }
}

/**
 * 95 % interval of the exposure that truly gives the growth which the fit expects at `exposureS`: inverse prediction.
 *
 * Fieller's set, all exposures whose fitted growth f is within t standard uncertainties of that growth g:
 *
 *   { u : (f(u) - g)^2 <= t^2 (var f(u) + common^2) },  u = ln(exposure / reference)
 *
 * in closed form for the straight line, by root finding between the rungs for the quadratic. The common offset adds to
 * the variance of the level and not to that of the slope. t has the effective degrees of freedom of the growth at
 * `exposureS` (Welch-Satterthwaite of the fit's and the common offset's, the latter known exactly).
 *
 * @param fit one whose growth rises with exposure at 95 %, as `findDoseToSize` makes sure
 * @param exposureS between the rungs
 * @see E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175 [from memory]
 */
export function findExposureInterval(fit: GrowthFit, exposureS: number): ExposureInterval {
  const ends = rungRangeS(fit)
  const [uLow, uHigh] = ends.map((end) => Math.log(end / fit.referenceS)) as [number, number]
  const level = growthAt(fit, exposureS)
  const t = coverageFactor(level.degreesOfFreedom)
  const pieces = confidencePieces(fit, level.value, t, [uLow, uHigh], Math.log(exposureS / fit.referenceS))
  const [low, high] = [pieces[0]![0], pieces.at(-1)![1]]
  const reachesEnd = { low: low <= uLow, high: high >= uHigh }
  const intervalS = [
    reachesEnd.low ? ends[0] : Math.exp(low) * fit.referenceS,
    reachesEnd.high ? ends[1] : Math.exp(high) * fit.referenceS,
  ] as const
  const shape = pieces.length > 1 ? 'in-pieces' : 'one-piece'
  return { intervalS, reachesEnd, shape, coverageFactor: t, inWords: describeInterval(intervalS, reachesEnd, shape) }
}

/** Exposure to three digits, for sentences. */
export function seconds(exposureS: number): string {
  return `${Number(exposureS.toPrecision(3))} s`
}

function confidencePieces(
  fit: GrowthFit,
  target: number,
  t: number,
  [uLow, uHigh]: readonly [number, number],
  answer: number,
): [number, number][] {
  if (fit.chosen.model === 'straight') {
    const set = solveFieller(shiftedLine(fit, target), t)
    // A slope that differs from zero at 95 % makes the set an interval.
    if (set.kind === 'bounded') return [[set.low, set.high]]
  }
  const outside = (u: number) => {
    const { growthUm, varianceUm2 } = evaluateGrowth(fit.chosen, u)
    return (growthUm - target) ** 2 - t ** 2 * (varianceUm2 + fit.commonUncertaintyUm ** 2)
  }
  return intervalsAtMostZero(outside, uLow, uHigh, [answer])
}

/** The straight line, chosen or not, less the target, with the common offset in its level. */
function shiftedLine(fit: GrowthFit, target: number) {
  const { coefficientsUm: c, covarianceUm2: v } = fit.chosen.model === 'straight' ? fit.chosen : fit.rival!
  return {
    intercept: c[0]! - target,
    slope: c[1]!,
    interceptVariance: v[0]![0]! + fit.commonUncertaintyUm ** 2,
    slopeVariance: v[1]![1]!,
    covariance: v[0]![1]!,
  }
}

function refuseUnlessRising(fit: GrowthFit, uLow: number, uHigh: number, target: number) {
  const { coefficientsUm, covarianceUm2, degreesOfFreedom } = fit.chosen
  const direction = coefficientsUm.map((_, power) => uHigh ** power - uLow ** power)
  const rise = direction.reduce((sum, d, i) => sum + d * coefficientsUm[i]!, 0)
  const u = Math.sqrt(quadraticForm(covarianceUm2, direction))
  const t = coverageFactor(degreesOfFreedom)
  const found = `growth changes by ${rise.toFixed(1)} um from the lowest to the highest rung, u = ${u.toFixed(1)} um`
  if (rise > t * u) return undefined
  if (rise < -t * u) {
    return refuse(
      'wrong-sign',
      'Check that each coupon lies in the slot of its own exposure, then print the ladder again.',
      `${found}; more exposure cannot make parts smaller`,
    )
  }
  const set = describeSet(solveFieller(shiftedLine(fit, target), t), fit)
  return refuse('flat', 'Print a ladder over a wider range of exposures.', `${found}; ${set}`)
}

function describeSet(set: FiellerSet, fit: GrowthFit): string {
  const atS = (u: number) => seconds(Math.exp(u) * fit.referenceS)
  if (set.kind === 'everything') return 'at 95 % the data exclude no exposure at all'
  if (set.kind === 'bounded') return `at 95 % the exposure lies between ${atS(set.low)} and ${atS(set.high)}`
  return `at 95 % the data exclude only what lies between ${atS(set.below)} and ${atS(set.above)}`
}

function notBracketed(fit: GrowthFit, side: 'low' | 'high', endS: number): Outcome<never> {
  const { value, standardUncertainty } = growthAt(fit, endS)
  const there = `fitted growth at ${seconds(endS)} is ${value.toFixed(1)} um, u = ${standardUncertainty.toFixed(1)} um`
  return side === 'low'
    ? refuse('not-bracketed-low', 'Print lower exposures: the lowest rung is still too big.', there)
    : refuse('not-bracketed-high', 'Print higher exposures: the highest rung is still too small.', there)
}

function describeInterval(
  [low, high]: readonly [number, number],
  reachesEnd: ExposureInterval['reachesEnd'],
  shape: ExposureInterval['shape'],
): string {
  const cut = [
    ...(reachesEnd.low ? ['below the lowest rung'] : []),
    ...(reachesEnd.high ? ['above the highest rung'] : []),
  ]
  return [
    `between ${seconds(low)} and ${seconds(high)} with 95 % confidence`,
    ...(cut.length ? [`perhaps ${cut.join(' and ')}, where the ladder cannot tell`] : []),
    ...(shape === 'in-pieces' ? ['some exposures between are excluded'] : []),
  ].join('; ')
}
