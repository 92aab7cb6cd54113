import { factorInPlace, invertFactored } from '../statistics/cholesky.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { growthAt, rungRangeS, type GrowthFit } from './growth-fit.js'
import type { NextLadder } from './next-ladder.js'
import { exposureOfSteps } from './time-step.js'

export interface SharpeningLadder extends NextLadder {
  /** Expected half width of the 95 % interval of dose-to-size, per cent: of this ladder, and of both together. */
  readonly halfWidthNowPercent: number
  readonly halfWidthAfterPercent: number
}

export interface SharpenOptions {
  readonly timeStepS: number
  /** How many rungs. Default 4. */
  readonly rungs?: number | undefined
}

/** Candidates are thinned to about as many. */
const CANDIDATES = 40
const PASSES = 4
/** Three-point Gauss-Hermite rule of a normal distribution: places in standard deviations, weights. */
const PLACES = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const

/**
 * The rungs that shrink the interval of dose-to-size most, printed and photographed after this ladder.
 *
 * c-optimal: the new exposures minimise the variance of the fitted growth at dose-to-size u0, over the places where the
 * present interval leaves u0 to lie. The model planned for is a quadratic in ln(exposure), so that a bend not yet seen
 * cannot mislead; each photograph has an offset of its own with the common uncertainty, which no number of rungs in one
 * photograph reduces. Found by greedy choice and exchange over whole time steps within the present rungs.
 *
 * What it assumes: the slope and uncertainties of the present fit, and a growth that is smooth.
 *
 * @param doseToSizeS between the rungs
 * @see A. C. Atkinson, A. N. Donev, R. D. Tobias, Optimum Experimental Designs (2007) 10.4, 12 [from memory]
 */
export function sharpeningLadder(
  fit: GrowthFit,
  doseToSizeS: number,
  { timeStepS, rungs = 4 }: SharpenOptions,
): SharpeningLadder {
  const u0 = Math.log(doseToSizeS / fit.referenceS)
  const slopeUm = slopeAt(fit, u0)
  const spread = growthAt(fit, doseToSizeS).standardUncertainty / slopeUm
  const places = PLACES.map(([z, weight]) => ({ u: u0 + z * spread, weight }))
  const common = fit.commonUncertaintyUm
  const present = fit.rungs.map(({ exposureS, growthUm }) =>
    row(Math.log(exposureS / fit.referenceS), 0, common, growthUm.standardUncertainty),
  )
  const usual = Math.sqrt(
    fit.rungs.reduce((sum, { growthUm }) => sum + growthUm.standardUncertainty ** 2, 0) / fit.rungs.length,
  )
  const plan = { before: informationOf(present), places }
  const settings = candidates(fit, timeStepS).map((exposureS) => ({
    exposureS,
    row: row(Math.log(exposureS / fit.referenceS), 1, common, usual),
  }))
  const chosen = choose(plan, settings, rungs)
  const t = coverageFactor(undefined)
  const percent = (variance: number) => 100 * Math.expm1((t * Math.sqrt(variance)) / slopeUm)
  const now = growthAt(fit, doseToSizeS).standardUncertainty ** 2
  const after = Math.min(now, varianceWith(plan, chosen))
  return {
    exposuresS: chosen.map(({ exposureS }) => exposureS).sort((a, b) => a - b),
    halfWidthNowPercent: percent(now),
    halfWidthAfterPercent: percent(after),
    reason: 'surer',
    why:
      `shrinks the doubt about dose-to-size from ${percent(now).toFixed(0)} to about ${percent(after).toFixed(0)} per cent either way` +
      (common ** 2 > now / 2
        ? '; most of what is left is shared by a whole photo: a caliper on the tabs helps more'
        : ''),
  }
}

/** Row of the design over its uncertainty: 1, u, u^2, and the photo's offset in units of the common uncertainty. */
function row(u: number, photo: 0 | 1, common: number, uncertainty: number): number[] {
  return [1, u, u * u, photo === 0 ? common : 0, photo === 1 ? common : 0].map((value) => value / uncertainty)
}

const SIZE = 5

/** Information of the rows, with the offsets' own: each is known to be 0 within 1 of its unit. */
function informationOf(rows: readonly (readonly number[])[]): Float64Array {
  const information = new Float64Array(SIZE * SIZE)
  information[3 * SIZE + 3] = 1
  information[4 * SIZE + 4] = 1
  return addRows(information, rows)
}

function addRows(information: Float64Array, rows: readonly (readonly number[])[]): Float64Array {
  const sum = information.slice()
  for (const one of rows)
    for (let i = 0; i < SIZE; i++) for (let j = 0; j < SIZE; j++) sum[i * SIZE + j]! += one[i]! * one[j]!
  return sum
}

function inverseOf(information: Float64Array): Float64Array | undefined {
  const factor = information.slice()
  return factorInPlace(factor, SIZE, 1e-12) ? invertFactored(factor, SIZE) : undefined
}

/** What is planned for: the information of the present rungs, and where dose-to-size may lie. */
interface Plan {
  readonly before: Float64Array
  readonly places: readonly { readonly u: number; readonly weight: number }[]
}

/** An exposure that may be printed, and its row of the design. */
interface Setting {
  readonly exposureS: number
  readonly row: readonly number[]
}

const varianceWith = ({ before, places }: Plan, settings: readonly Setting[]): number =>
  meanVariance(
    addRows(
      before,
      settings.map((setting) => setting.row),
    ),
    places,
  )

/** Variance of the growth over the places. */
function meanVariance(information: Float64Array, places: Plan['places']): number {
  const inverse = inverseOf(information)
  if (!inverse) return Infinity
  let mean = 0
  for (const { u, weight } of places) mean += weight * varianceAt(inverse, u)
  return mean
}

function varianceAt(inverse: Float64Array, u: number): number {
  const x = [1, u, u * u]
  let variance = 0
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) variance += x[i]! * x[j]! * inverse[i * SIZE + j]!
  return variance
}

function choose(plan: Plan, settings: readonly Setting[], rungs: number): Setting[] {
  let chosen: Setting[] = []
  for (let i = 0; i < Math.min(rungs, settings.length); i++) chosen = [...chosen, best(plan, settings, chosen)]
  for (let pass = 0; pass < PASSES; pass++) {
    const improved = chosen.reduce((now, setting) => {
      const others = now.filter((other) => other !== setting)
      return [...others, best(plan, settings, others)]
    }, chosen)
    if (varianceWith(plan, improved) >= varianceWith(plan, chosen) * (1 - 1e-9)) break
    chosen = improved
  }
  return chosen
}

/** The setting that tells most beside others. */
function best({ before, places }: Plan, settings: readonly Setting[], others: readonly Setting[]): Setting {
  const known = addRows(
    before,
    others.map((other) => other.row),
  )
  const free = settings.filter((setting) => !others.includes(setting))
  let found = free[0]!
  let least = Infinity
  for (const setting of free) {
    const variance = meanVariance(addRows(known, [setting.row]), places)
    if (variance >= least) continue
    found = setting
    least = variance
  }
  return found
}

/** Whole time steps between the rungs. */
function candidates(fit: GrowthFit, timeStepS: number): number[] {
  const [low, high] = rungRangeS(fit)
  const [first, last] = [Math.ceil(low / timeStepS - 1e-9), Math.floor(high / timeStepS + 1e-9)]
  const stride = Math.max(1, Math.ceil((last - first) / CANDIDATES))
  const count = Math.max(0, Math.floor((last - first) / stride)) + 1
  return Array.from({ length: count }, (_, i) => exposureOfSteps(first + i * stride, timeStepS))
}

function slopeAt(fit: GrowthFit, u: number): number {
  const step = 1e-4
  const at = (shifted: number) => growthAt(fit, Math.exp(shifted) * fit.referenceS).value
  return (at(u + step) - at(u - step)) / (2 * step)
}
