import { refuse, type Outcome } from '../outcome.js'
import { solveFieller, type FiellerSet } from '../statistics/fieller.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { lastInside, intervalsAtMostZero } from '../statistics/sign-intervals.js'
import type { Axis } from './coupon-readings.js'
import { TAIL_SEARCH, tailAbove, type Target } from './exposure-set.js'
import { evaluateGrowth, growthAt, rungRangeS, type GrowthFit, type GrowthModel } from './growth-fit.js'
import { SHAPES } from './growth-shape.js'
import { quadraticForm } from '../statistics/quadratic-form.js'

/** Exposures that the data allow for one growth. */
export interface ExposureInterval {
  /** 95 %, s; cut at the outermost rungs. */
  readonly intervalS: readonly [number, number]
  /** Ends at which the interval was cut: it may go on beyond the rung, where nothing was measured. */
  readonly reachesEnd: { readonly low: boolean; readonly high: boolean }
  /** Whether the exposures that the data allow hang together; if not, the interval spans all the pieces. */
  readonly shape: 'one-piece' | 'in-pieces'
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
  /** Of the walls along one axis, where the axes differ. Default: midway between the two. */
  readonly axis?: Axis
}

/**
 * Dose-to-size: the exposure at which the fitted growth is zero, with its 95 % interval.
 *
 * @returns dose-to-size, or a refusal. `flat`: growth does not rise with exposure at 95 %, so that Fieller's set is not
 *   an interval; the detail says in words what it is. `wrong-sign`: growth falls, at 95 %. `not-bracketed-low`,
 *   `not-bracketed-high`: the exposure lies below the lowest or above the highest rung; the fit is not extrapolated.
 * @example findDoseToSize(fit) // 2.69 s, [2.60, 2.81] for the example of fitGrowth
 */
export function findDoseToSize(
  fit: GrowthFit,
  { targetGrowthUm = 0, axis }: DoseToSizeOptions = {},
): Outcome<DoseToSize> {
  const ends = rungRangeS(fit)
  const [uLow, uHigh] = uRange(fit)
  const refusal = refuseUnlessRising(fit, uLow, uHigh, targetGrowthUm)
  if (refusal) return refusal

  const excess = (u: number) => evaluateGrowth(fit.chosen, u, axis).growthUm - targetGrowthUm
  if (excess(uLow) > 0) return notBracketed(fit, 'low', ends[0], axis)
  if (excess(uHigh) < 0) return notBracketed(fit, 'high', ends[1], axis)

  // Growth rises all the way, so it crosses the target once.
  const answer = lastInside(excess, uLow, uHigh)
  const exposureS = Math.exp(answer) * fit.referenceS
  const { slopeUm } = evaluateGrowth(fit.chosen, answer)
  return {
    ok: true,
    value: {
      exposureS,
      ...exposuresFor(fit, { growthUm: targetGrowthUm, axis }, answer),
      relativeStandardUncertainty: growthAt(fit, exposureS, axis).standardUncertainty / slopeUm,
      slopeUm,
    },
  }
}

/**
 * 95 % interval of the exposure that truly gives the growth which the fit expects at `exposureS`: inverse prediction.
 *
 * All exposures at which the one-sided tail of `tailAbove` lies between 2.5 and 97.5 %: Fieller's set where one model
 * stands alone, else that of the models' averaged tails. The common offset adds to the variance of the level and not to
 * that of the slope.
 *
 * @param fit one whose growth rises with exposure at 95 %, as `findDoseToSize` makes sure
 * @param exposureS between the rungs
 */
export function findExposureInterval(fit: GrowthFit, exposureS: number): ExposureInterval {
  const u = Math.log(exposureS / fit.referenceS)
  return exposuresFor(fit, { growthUm: evaluateGrowth(fit.chosen, u).growthUm }, u)
}

/** Dose-to-size by one of the models alone; absent where it does not cross zero between the rungs. */
export function sizeByModel(
  fit: GrowthFit,
  model: GrowthModel,
): { exposureS: number; intervalS: readonly [number, number] } | undefined {
  const [uLow, uHigh] = uRange(fit)
  const growth = (u: number) => evaluateGrowth(model, u).growthUm
  if (!(growth(uLow) <= 0 && growth(uHigh) >= 0)) return undefined
  const answer = lastInside(growth, uLow, uHigh)
  const { intervalS } = exposuresFor(fit, { growthUm: 0 }, answer, [model])
  return { exposureS: Math.exp(answer) * fit.referenceS, intervalS }
}

function exposuresFor(
  fit: GrowthFit,
  target: Target,
  answer: number,
  models: readonly GrowthModel[] = fit.candidates,
): ExposureInterval {
  const ends = rungRangeS(fit)
  const [uLow, uHigh] = uRange(fit)
  const outside = (u: number) => Math.abs(tailAbove(fit, target, u, models) - 0.5) - 0.475
  const pieces = intervalsAtMostZero(outside, uLow, uHigh, { landmarks: [answer], ...TAIL_SEARCH })
  const [low, high] = [pieces[0]![0], pieces.at(-1)![1]]
  const reachesEnd = { low: low <= uLow, high: high >= uHigh }
  const intervalS = [
    reachesEnd.low ? ends[0] : Math.exp(low) * fit.referenceS,
    reachesEnd.high ? ends[1] : Math.exp(high) * fit.referenceS,
  ] as const
  const shape = pieces.length > 1 ? 'in-pieces' : 'one-piece'
  return { intervalS, reachesEnd, shape, inWords: describeInterval(intervalS, reachesEnd, shape) }
}

const uRange = (fit: GrowthFit) =>
  rungRangeS(fit).map((exposureS) => Math.log(exposureS / fit.referenceS)) as [number, number]

/** Exposure to three digits, for sentences. */
export function seconds(exposureS: number): string {
  return `${Number(exposureS.toPrecision(3))} s`
}

/** The straight line, chosen or not, less the target, with the common offset in its level. */
function shiftedLine(fit: GrowthFit, target: number) {
  const { parameters: c, covariance: v } = fit.candidates.find(({ model }) => model === 'straight')!
  return {
    intercept: c[0]! - target,
    slope: c[1]!,
    interceptVariance: v[0]![0]! + fit.commonUncertaintyUm ** 2,
    slopeVariance: v[1]![1]!,
    covariance: v[0]![1]!,
  }
}

function refuseUnlessRising(fit: GrowthFit, uLow: number, uHigh: number, target: number) {
  const { model, parameters, covariance, degreesOfFreedom } = fit.chosen
  const [low, high] = [uLow, uHigh].map((u) => SHAPES[model].gradient(parameters, u)) as [number[], number[]]
  const direction = parameters.map((_, i) => (high[i] ?? 0) - (low[i] ?? 0))
  const rise = evaluateGrowth(fit.chosen, uHigh).growthUm - evaluateGrowth(fit.chosen, uLow).growthUm
  const u = Math.sqrt(quadraticForm(covariance, direction))
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

function notBracketed(fit: GrowthFit, side: 'low' | 'high', endS: number, axis?: Axis): Outcome<never> {
  const { value, standardUncertainty } = growthAt(fit, endS, axis)
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
