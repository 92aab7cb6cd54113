import { refuse, type Outcome } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import { solveFieller } from '../statistics/fieller.js'
import { fitLinear, polynomialDesign } from '../statistics/linear-least-squares.js'
import { fitLine, type LineFit } from '../statistics/line-fit.js'
import { coverageFactor } from '../statistics/quantiles.js'
import type { CurePoint, Curvature } from './cure-point.js'
import { adviseOnPoints, type PointAdvice } from './working-curve-advice.js'

/** depth = Dp ln(dose / Ec) */
export interface WorkingCurve {
  readonly penetrationDepthUm: Estimate
  /** 95 %, um. */
  readonly penetrationDepthIntervalUm: readonly [number, number]
  readonly criticalDoseMjPerCm2: number
  /** 95 %, by Fieller; not symmetric. */
  readonly criticalDoseIntervalMjPerCm2: readonly [number, number]
  /** Standard deviation of the depths about the line, um. */
  readonly scatterUm: number
  readonly curvature: Curvature
  /** In the order of the points. */
  readonly residualsUm: readonly number[]
  /** Points worth dropping, most urgent first; none is dropped here. */
  readonly advice: readonly PointAdvice[]
  readonly line: LineFit
}

/**
 * Working curve of a photopolymer: cure depth = Dp ln(dose / Ec), a straight line in ln(dose).
 *
 * Least squares with all depths equally uncertain, as a gauge makes them. Doses are taken as exact; an error that all
 * share, such as of the meter, moves Ec by as much and leaves Dp alone.
 *
 * @returns the curve, or a refusal: `too-few-doses` below three different ones, `no-growth-with-dose` when the slope does
 *   not exceed zero at 95 %
 * @throws {RangeError} if a dose or depth is not above 0: an uncured patch only says that Ec lies higher
 * @see P. F. Jacobs, Fundamentals of stereolithography, Proc. SFF Symp. (1992) 196 [from memory]; E. C. Fieller (1954)
 *   for Ec, as in `solveFieller`
 */
export function fitWorkingCurve(points: readonly CurePoint[]): Outcome<WorkingCurve> {
  for (const { doseMjPerCm2, depthUm } of points) {
    const bad = [doseMjPerCm2, depthUm].find((value) => !(value > 0 && value < Infinity))
    if (bad !== undefined) throw new RangeError(`fitWorkingCurve needs doses and depths above 0, got ${bad}`)
  }
  const different = new Set(points.map(({ doseMjPerCm2 }) => doseMjPerCm2)).size
  if (different < 3) {
    return refuse('too-few-doses', 'Cure patches at three doses or more.', `${different} different doses, 3 needed`)
  }
  const logs = points.map(({ doseMjPerCm2 }) => Math.log(doseMjPerCm2))
  const depths = points.map(({ depthUm }) => depthUm)
  const fit = fitLine(logs, depths)
  if (!fit.ok) return fit
  const line = fit.value
  const { slope, intercept } = line
  const t = coverageFactor(slope.degreesOfFreedom)
  const logCritical = fiellerOf(line, 0, t)
  if (slope.value <= t * slope.standardUncertainty || !logCritical) {
    return refuse(
      'no-growth-with-dose',
      'Cure over a wider range of doses, and measure the depths again.',
      `depth changes by ${slope.value.toFixed(0)} um per ln(dose), u = ${slope.standardUncertainty.toFixed(0)} um`,
    )
  }
  const half = t * slope.standardUncertainty
  const curve = {
    penetrationDepthUm: slope,
    penetrationDepthIntervalUm: [slope.value - half, slope.value + half] as const,
    criticalDoseMjPerCm2: Math.exp(-intercept.value / slope.value),
    criticalDoseIntervalMjPerCm2: [Math.exp(logCritical[0]), Math.exp(logCritical[1])] as const,
    scatterUm: Math.sqrt(line.rss / line.residualDegreesOfFreedom),
    curvature: curvatureOf(logs, depths),
    residualsUm: depths.map((depth, i) => depth - intercept.value - slope.value * logs[i]!),
    line,
  }
  return { ok: true, value: { ...curve, advice: adviseOnPoints(points, curve) } }
}

/**
 * Dose that cures to a depth, mJ/cm2, with Fieller's 95 % intervals.
 *
 * @returns `intervalMjPerCm2` of the curve itself, `oneLayerMjPerCm2` for one further layer, which scatters as the points do
 * @throws {RangeError} if the depth is not above 0
 */
export function doseForDepth(curve: WorkingCurve, depthUm: number) {
  if (!(depthUm > 0 && depthUm < Infinity)) throw new RangeError(`doseForDepth needs a depth above 0, got ${depthUm}`)
  const { line, scatterUm } = curve
  const t = coverageFactor(line.slope.degreesOfFreedom)
  const interval = (extraVariance: number) => {
    // The slope exceeds zero at the same confidence, so Fieller's set is an interval.
    const [low, high] = fiellerOf(line, depthUm, t, extraVariance)!
    return [Math.exp(low), Math.exp(high)] as const
  }
  return {
    doseMjPerCm2: Math.exp((depthUm - line.intercept.value) / line.slope.value),
    intervalMjPerCm2: interval(0),
    oneLayerMjPerCm2: interval(scatterUm ** 2),
  }
}

function fiellerOf(line: LineFit, target: number, t: number, extraVariance = 0): readonly [number, number] | undefined {
  const set = solveFieller(
    {
      intercept: line.intercept.value - target,
      slope: line.slope.value,
      interceptVariance: line.intercept.standardUncertainty ** 2 + extraVariance,
      slopeVariance: line.slope.standardUncertainty ** 2,
      covariance: line.covariance,
    },
    t,
  )
  return set.kind === 'bounded' ? [set.low, set.high] : undefined
}

function curvatureOf(logs: readonly number[], depths: readonly number[]): Curvature {
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length
  const enough = new Set(logs).size > 3
  const fit = enough
    ? fitLinear(
        polynomialDesign(
          logs.map((log) => log - mean),
          2,
        ),
        depths,
      )
    : undefined
  if (!fit?.ok) return { quadraticUm: null, verdict: 'too-few-doses' }
  const { coefficients, covariance, degreesOfFreedom = Infinity } = fit.value
  const quadraticUm = { value: coefficients[2]!, standardUncertainty: Math.sqrt(covariance[2]![2]!), degreesOfFreedom }
  const shown = Math.abs(quadraticUm.value) > coverageFactor(degreesOfFreedom) * quadraticUm.standardUncertainty
  return { quadraticUm, verdict: !shown ? 'straight' : quadraticUm.value < 0 ? 'saturates' : 'steepens' }
}
