import studentCdf from '@stdlib/stats-base-dists-t-cdf'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import { combineUncertainty } from '../statistics/uncertainty.js'
import { offsetRow, type Axis } from './coupon-readings.js'
import { evaluateGrowth, type GrowthFit, type GrowthModel } from './growth-fit.js'
import { SHAPES, sizeForGrowth } from './growth-shape.js'

/** What is asked of an exposure. */
export interface Target {
  readonly growthUm: number
  /** Default: midway between the axes. */
  readonly axis?: Axis | undefined
}

/** Tails are smooth but costly; 1e-10 of an exposure is far below what is printed. */
export const TAIL_SEARCH = { steps: 32, tolerance: 1e-10 } as const

/**
 * How surely true growth at an exposure exceeds a target: the share of 95 % and other one-sided limits that say so.
 *
 * For one model the tail of Student's t at the signed root of its profile likelihood: by how much the sum of squares
 * rises when growth at u is held at the target, with the common offset as one more datum. For a model that is linear in
 * its parameters that is (f - target) / sqrt(var f + common^2), and the exposures with a tail between 2.5 and 97.5 % are
 * Fieller's set. Over several models tails are averaged, so that an interval does not pretend that the choice between them
 * was sure: by their likelihoods, for with Akaike's penalty a straight line through points that bend a little had too much
 * say (91 to 92 % in the middle of six rungs of a quadratic truth, 94 to 96 % without; `tests/slow`).
 *
 * @param u ln(exposure / referenceS)
 * @see E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175; D. Turek, D. Fletcher, Comput. Stat. Data Anal. 56 (2012) 2809
 *   for averaged tails [both from memory]
 */
export function tailAbove(fit: GrowthFit, target: Target, u: number, models = fit.candidates): number {
  let tail = 0
  let total = 0
  for (const model of models) {
    // A model this unlikely moves no limit by a printed digit.
    if (model.tailWeight < 1e-4 && models.length > 1) continue
    const { growthUm, varianceUm2 } = evaluateGrowth(model, u, target.axis)
    const { degreesOfFreedom = 1e6, standardUncertainty } = combineUncertainty([
      {
        standardUncertainty: Math.sqrt(varianceUm2),
        ...(model.degreesOfFreedom === undefined ? {} : { degreesOfFreedom: model.degreesOfFreedom }),
      },
      { standardUncertainty: fit.commonUncertaintyUm },
    ])
    const root = SHAPES[model.model].linear
      ? (growthUm - target.growthUm) / standardUncertainty
      : profileRoot(model, target, u, fit.commonUncertaintyUm)
    const weight = models.length > 1 ? model.tailWeight : 1
    tail += weight * studentCdf(root, Math.min(1e6, degreesOfFreedom))
    total += weight
  }
  return tail / total
}

/** Roots beyond it have tails far below the 2.5 % that any interval asks for: the tangent will do. */
const FAR = 4

/**
 * Signed root of the profile likelihood of a threshold model.
 *
 * Its size parameter follows from the growth held at u, so that blur, offsets and the common offset c are left to
 * minimise rss + (c / common)^2.
 */
function profileRoot(model: GrowthModel, { growthUm: target, axis }: Target, u: number, commonUm: number): number {
  const { growthUm, varianceUm2 } = evaluateGrowth(model, u, axis)
  const total = varianceUm2 + commonUm ** 2
  const linear = (growthUm - target) / Math.sqrt(total)
  if (Math.abs(linear) > FAR) return linear
  const { rowCount, parameters } = model
  const n = parameters.length
  const toAxis = offsetRow(model.offsets, axis)
  const held: HeldGrowth = {
    model,
    u,
    target,
    commonUm,
    toAxis,
    jacobianOfAll: new Float64Array(rowCount * n),
    all: Float64Array.from(parameters),
  }
  const start = Float64Array.from(parameters)
  start[1] = ((target - growthUm) * commonUm) / total
  const free = sumOfSquares(model)
  const profile = minimizeSquares(evaluateHeld.bind(undefined, held), start, rowCount + 1)
  // Where the search fails the curve is followed by its tangent.
  if (!profile.ok) return linear
  return Math.sign(linear) * Math.sqrt(Math.max(0, profile.value.rss - free))
}

/** A threshold model whose growth at u is held at a target. */
interface HeldGrowth {
  readonly model: GrowthModel
  readonly u: number
  readonly target: number
  readonly commonUm: number
  readonly toAxis: readonly number[]
  /** Room for what the model has at all its parameters, and for these. */
  readonly jacobianOfAll: Float64Array
  readonly all: Float64Array
}

/** Free: blur, offsets and, in the place of the size, c over the common uncertainty. */
function evaluateHeld(
  { model: { rowCount, evaluate }, u, target, commonUm, toAxis, jacobianOfAll, all }: HeldGrowth,
  free: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  const n = free.length
  let growth = target - free[1]! * commonUm
  for (let j = 0; j < toAxis.length; j++) growth -= toAxis[j]! * free[2 + j]!
  all.set(free)
  all[1] = sizeForGrowth(free[0]!, u, growth)
  evaluate(all, residuals, jacobianOfAll)
  const [byBlur, bySize] = SHAPES.threshold.gradient(all, u) as [number, number]
  // How the size gives way to the others, by the implicit function theorem.
  const sizeBy = [byBlur, commonUm, ...toAxis].map((value) => -value / bySize)
  for (let row = 0; row < rowCount; row++) {
    const throughSize = jacobianOfAll[row * n + 1]!
    for (let j = 0; j < n; j++)
      jacobian[row * n + j] = (j === 1 ? 0 : jacobianOfAll[row * n + j]!) + throughSize * (sizeBy[j] ?? 0)
  }
  residuals[rowCount] = free[1]!
  jacobian.fill(0, rowCount * n)
  jacobian[rowCount * n + 1] = 1
}

function sumOfSquares({ evaluate, parameters, rowCount }: GrowthModel): number {
  const residuals = new Float64Array(rowCount)
  evaluate(Float64Array.from(parameters), residuals, new Float64Array(rowCount * parameters.length))
  return residuals.reduce((sum, residual) => sum + residual ** 2, 0)
}
