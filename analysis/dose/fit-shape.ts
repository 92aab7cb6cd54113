import type { Outcome } from '../outcome.js'
import { minimizeSquares, type EvaluateModel } from '../statistics/levenberg-marquardt.js'
import { fitLinear } from '../statistics/linear-least-squares.js'
import type { NoiseBasis } from '../statistics/noise-scale.js'
import { spreadBetween, whiten } from '../statistics/random-effect.js'
import { clusterOf, type GrowthRung, type OffsetPlan } from './coupon-readings.js'
import type { GrowthShape } from './growth-shape.js'

/** Rungs with u = ln(exposure / reference). */
export type PlacedRung = GrowthRung & { readonly u: number }

export interface ShapeFitOptions {
  readonly offsets: OffsetPlan
  readonly noise: NoiseBasis
  /** Variance between coupons beyond the stated, um^2, when it is not to be estimated. */
  readonly spreadUm2?: number
  /** Where the search for a shape that is not linear starts. */
  readonly start: readonly number[]
}

export interface ShapeFit {
  /** The shape's, then the offsets'. */
  readonly parameters: readonly number[]
  readonly covariance: readonly (readonly number[])[]
  /** Of that covariance; absent when infinite: the stated uncertainties explain the scatter. */
  readonly degreesOfFreedom?: number
  /** Coupons less the parameters that only differences between coupons tell. */
  readonly residualDegreesOfFreedom: number
  /** Variance between coupons beyond the stated, um^2. */
  readonly spreadUm2: number
  /** Sum of squared whitened residuals. */
  readonly rss: number
  /** Fills whitened residuals and their derivatives at given parameters. */
  readonly evaluate: EvaluateModel
  readonly rowCount: number
}

const MOST_ROUNDS = 20

/**
 * Fits one shape of growth with its offsets to the gratings of all coupons.
 *
 *   growth of grating g on coupon i = shape(u_i) + offset_g + offset of the axis + b_i + e_ig
 *
 * e_ig has the scatter of the grating's lines, b_i what the reading adds to the whole coupon and a spread between coupons
 * beyond that, by REML. For a shape that is not linear spread and parameters are found in turn, the shape linearised at
 * the last parameters. With noise `given` the spread is 0; with `scatter` too, and the covariance is scaled by the misfit.
 *
 * @see M. J. Lindstrom, D. M. Bates, Biometrics 46 (1990) 673, for the alternation [from memory]; checked against R's metafor
 */
export function fitShape(
  shape: GrowthShape,
  rungs: readonly PlacedRung[],
  options: ShapeFitOptions,
): Outcome<ShapeFit> {
  const { offsets, noise, spreadUm2 } = options
  const residualDegreesOfFreedom = rungs.length - shape.parameterCount - (offsets.axes ? 1 : 0)
  const estimate = spreadUm2 === undefined && noise === 'larger' && residualDegreesOfFreedom > 0
  const clustersAt = (parameters: readonly number[]) =>
    rungs.map((rung) => linearised(shape, rung, offsets, parameters))

  let spread = spreadUm2 ?? (estimate && shape.linear ? spreadBetween(clustersAt(options.start)) : 0)
  let solved = solve(shape, rungs, options, spread)
  for (let round = 0; estimate && !shape.linear && solved.ok && round < MOST_ROUNDS; round++) {
    const next = spreadBetween(clustersAt(solved.value.parameters))
    const settled = Math.abs(next - spread) <= 1e-7 * next
    spread = next
    if (settled) break
    solved = solve(shape, rungs, { ...options, start: solved.value.parameters }, spread)
  }
  if (!solved.ok) return solved
  const { parameters, covariance, rss, rowCount, evaluate } = solved.value
  const rowsOver = rowCount - parameters.length
  const scale = noise === 'scatter' && rowsOver > 0 ? rss / rowsOver : 1
  const degreesOfFreedom =
    noise === 'scatter' ? rowsOver : spread > 0 && noise === 'larger' ? residualDegreesOfFreedom : undefined
  return {
    ok: true,
    value: {
      parameters,
      covariance: covariance.map((row) => row.map((value) => value * scale)),
      ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }),
      residualDegreesOfFreedom,
      spreadUm2: spread,
      rss,
      evaluate,
      rowCount,
    },
  }
}

type Solved = Pick<ShapeFit, 'parameters' | 'covariance' | 'rss' | 'rowCount' | 'evaluate'>

/** Least squares at a given spread between coupons. */
function solve(
  shape: GrowthShape,
  rungs: readonly PlacedRung[],
  { offsets, start }: ShapeFitOptions,
  spread: number,
): Outcome<Solved> {
  const rows = rungs.flatMap((rung) => {
    const { y, design } = whiten([clusterOf(rung, offsets, [1])], spread)
    return y.map((value, i) => ({ value, u: rung.u, one: design[i]![0]!, offsets: design[i]!.slice(1) }))
  })
  const evaluate: EvaluateModel = evaluateRows.bind(undefined, shape, rows)
  if (shape.linear) {
    const design = rows.map(({ one, u, offsets: o }) => [...shape.gradient([], u).map((value) => one * value), ...o])
    const fit = fitLinear(
      design,
      rows.map(({ value }) => value),
      rows.map(() => 1),
      'given',
    )
    if (!fit.ok) return fit
    const { coefficients, covariance, rss } = fit.value
    return { ok: true, value: { parameters: coefficients, covariance, rss, rowCount: rows.length, evaluate } }
  }
  const fit = minimizeSquares(evaluate, start, rows.length)
  if (!fit.ok) return fit
  const { parameters, unscaledCovariance: c, rss } = fit.value
  const n = parameters.length
  const covariance = Array.from({ length: n }, (_, i) => Array.from(c.subarray(i * n, (i + 1) * n)))
  return { ok: true, value: { parameters: [...parameters], covariance, rss, rowCount: rows.length, evaluate } }
}

/** A reading, freed of what it shares with the others of its coupon. */
interface WhitenedReading {
  readonly value: number
  readonly u: number
  /** What the shape's growth counts, and each offset. */
  readonly one: number
  readonly offsets: readonly number[]
}

function evaluateRows(
  shape: GrowthShape,
  rows: readonly WhitenedReading[],
  parameters: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  const count = shape.parameterCount
  for (const [at, { value, u, one, offsets }] of rows.entries()) {
    const base = at * parameters.length
    let fitted = one * shape.growthUm(parameters, u)
    for (let j = 0; j < offsets.length; j++) {
      fitted += offsets[j]! * parameters[count + j]!
      jacobian[base + count + j] = offsets[j]!
    }
    residuals[at] = fitted - value
    const gradient = shape.gradient(parameters, u)
    for (let j = 0; j < count; j++) jacobian[base + j] = one * gradient[j]!
  }
}

/** A coupon with the shape replaced by its tangent at the parameters; a linear shape is its own. */
function linearised(shape: GrowthShape, rung: PlacedRung, offsets: OffsetPlan, parameters: readonly number[]) {
  const gradient = shape.gradient(parameters, rung.u)
  const cluster = clusterOf(rung, offsets, gradient)
  if (shape.linear) return cluster
  const tangent = gradient.reduce((sum, g, j) => sum + g * parameters[j]!, 0)
  const shift = tangent - shape.growthUm(parameters, rung.u)
  return { ...cluster, y: cluster.y.map((value) => value + shift) }
}
