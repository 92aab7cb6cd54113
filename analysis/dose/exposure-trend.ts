import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { solveFieller } from '../statistics/fieller.js'
import { informationCriterion } from '../statistics/information-criterion.js'
import { fitLinear, polynomialDesign, type LinearFit } from '../statistics/linear-least-squares.js'
import { quadraticForm } from '../statistics/quadratic-form.js'
import { coverageFactor } from '../statistics/quantiles.js'

/** Anything measured on a rung. */
export interface MeasuredRung {
  readonly exposureS: number
  readonly measured: Estimate
}

/** How anything measured on the rungs goes with exposure: least squares on ln(exposure), straight or quadratic. */
export interface ExposureTrend {
  readonly model: 'straight' | 'quadratic'
  /** From one end of the ladder to the other, at 95 %; `bends` when it falls and rises again or the other way round. */
  readonly verdict: 'rises' | 'falls' | 'bends' | 'no-trend'
  /** Response at the highest exposure less that at the lowest. */
  readonly change: Estimate
  /** Exposure of the least response with its 95 % interval, s; only where the data show a minimum between the rungs. */
  readonly least?: { readonly exposureS: number; readonly intervalS: readonly [number, number] }
  /** Expected at an exposure between the rungs. */
  readonly at: (exposureS: number) => Estimate
  /** Lowest and highest exposure measured, s. */
  readonly rangeS: readonly [number, number]
}

const FEWEST_FOR_QUADRATIC = 5

/**
 * Trend of a response with ln(exposure), and its minimum where there is one to claim.
 *
 * The quadratic is taken when Akaike's criterion is lower and its curvature is not 0 at 95 %. A minimum is claimed when
 * the curvature is positive and Fieller's interval of the vertex, zero of the slope, lies wholly between the rungs.
 *
 * @param shape `straight` where physics says so; default: what the rungs show
 * @returns the trend, or the refusal `too-few-rungs` below three different exposures
 * @throws {RangeError} if an exposure or uncertainty is not above 0
 * @see `growth-fit.ts` for the criterion, `fieller.ts` for the interval
 */
export function fitExposureTrend(
  rungs: readonly MeasuredRung[],
  shape: 'straight' | 'as-shown' = 'as-shown',
): Outcome<ExposureTrend> {
  const exposures = rungs.map(({ exposureS }) => exposureS)
  const rangeS = [Math.min(...exposures), Math.max(...exposures)] as const
  if (rangeS[0] <= 0) throw new RangeError(`fitExposureTrend needs exposures above 0 s, got ${rangeS[0]}`)
  const different = new Set(exposures).size
  if (different < 3) {
    return refuse('too-few-rungs', 'Print at least three different exposures.', `${different} exposures, 3 needed`)
  }
  const logs = exposures.map(Math.log)
  const reference = logs.reduce((sum, log) => sum + log, 0) / logs.length
  const fitOf = (degree: number) =>
    fitLinear(
      polynomialDesign(
        logs.map((log) => log - reference),
        degree,
      ),
      rungs.map(({ measured }) => measured.value),
      rungs.map(({ measured }) => measured.standardUncertainty ** -2),
    )
  const straight = fitOf(1)
  if (!straight.ok) return straight
  const bent = shape === 'as-shown' && different >= FEWEST_FOR_QUADRATIC ? fitOf(2) : undefined
  const bends = bent?.ok && criterion(bent.value) < criterion(straight.value) && isShown(bent.value, [0, 0, 1])
  const fit = bends ? bent.value : straight.value
  const powers = (u: number) => fit.coefficients.map((_, power) => u ** power)
  const [low, high] = rangeS.map((s) => Math.log(s) - reference) as [number, number]
  const along = powers(high).map((value, i) => value - powers(low)[i]!)
  const vertex = bends ? vertexOf(fit) : undefined
  const inside = vertex && vertex.low > low && vertex.high < high
  const change = combination(fit, along)
  return {
    ok: true,
    value: {
      model: bends ? 'quadratic' : 'straight',
      verdict: inside ? 'bends' : !isShown(fit, along) ? 'no-trend' : change.value > 0 ? 'rises' : 'falls',
      change,
      ...(inside && fit.coefficients[2]! > 0
        ? {
            least: {
              exposureS: Math.exp(reference + vertex.at),
              intervalS: [Math.exp(reference + vertex.low), Math.exp(reference + vertex.high)] as const,
            },
          }
        : {}),
      at: (exposureS) => {
        const u = Math.log(exposureS) - reference
        return bent?.ok && !bends ? lineOrBend(straight.value, bent.value, u) : combination(fit, powers(u))
      },
      rangeS,
    },
  }
}

/**
 * Value of a straight line that may yet be bent: its uncertainty holds the quadratic's beside its own, each with its
 * Akaike weight, so that a bend which the rungs just fail to show is not left out.
 *
 * @see K. P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference (Springer 2002) 4.3 [from memory]
 */
function lineOrBend(straight: LinearFit, bent: LinearFit, u: number): Estimate {
  const [line, bend] = [combination(straight, [1, u]), combination(bent, [1, u, u * u])]
  const share = 1 / (1 + Math.exp((criterion(bent) - criterion(straight)) / 2))
  const variance =
    (1 - share) * line.standardUncertainty ** 2 +
    share * (bend.standardUncertainty ** 2 + (bend.value - line.value) ** 2)
  return makeEstimate(line.value, Math.sqrt(variance), line.degreesOfFreedom)
}

/** Whether an exposure lies within those measured. */
export function covers({ rangeS }: ExposureTrend, exposureS: number): boolean {
  return exposureS >= rangeS[0] && exposureS <= rangeS[1]
}

const criterion = ({ rss, residuals, coefficients }: LinearFit): number =>
  informationCriterion({ rss, points: residuals.length, coefficients: coefficients.length }, 'given')

function combination({ coefficients, covariance, degreesOfFreedom }: LinearFit, weights: readonly number[]): Estimate {
  const value = weights.reduce((sum, weight, i) => sum + weight * coefficients[i]!, 0)
  return makeEstimate(value, Math.sqrt(quadraticForm(covariance, weights)), degreesOfFreedom)
}

function isShown(fit: LinearFit, weights: readonly number[]): boolean {
  const { value, standardUncertainty, degreesOfFreedom } = combination(fit, weights)
  return Math.abs(value) > coverageFactor(degreesOfFreedom) * standardUncertainty
}

/** Where the slope b1 + 2 b2 u is zero, as ln(exposure) less the reference. */
function vertexOf({ coefficients, covariance, degreesOfFreedom }: LinearFit) {
  const set = solveFieller(
    {
      intercept: coefficients[1]!,
      slope: 2 * coefficients[2]!,
      interceptVariance: covariance[1]![1]!,
      slopeVariance: 4 * covariance[2]![2]!,
      covariance: 2 * covariance[1]![2]!,
    },
    coverageFactor(degreesOfFreedom),
  )
  return set.kind === 'bounded'
    ? { at: -coefficients[1]! / (2 * coefficients[2]!), low: set.low, high: set.high }
    : undefined
}
