import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { fitLine, type LineFit } from '../statistics/line-fit.js'

/** Anything measured on a rung. */
export interface MeasuredRung {
  readonly exposureS: number
  readonly measured: Estimate
}

/** measured = intercept + slope ln(exposure / referenceS) */
export interface LogExposureLine {
  readonly line: LineFit
  /** Geometric mean of the exposures, s. */
  readonly referenceS: number
  /** Lowest and highest exposure measured, s. */
  readonly rangeS: readonly [number, number]
}

/**
 * Weighted straight line of a measured quantity on ln(exposure), uncertainties the larger of stated and scatter.
 *
 * @returns the line, or the refusal `too-few-rungs` below three different exposures
 * @throws {RangeError} if an exposure or uncertainty is not above 0
 */
export function fitOnLogExposure(rungs: readonly MeasuredRung[]): Outcome<LogExposureLine> {
  for (const { exposureS } of rungs) {
    if (!(exposureS > 0)) throw new RangeError(`fitOnLogExposure needs exposures above 0 s, got ${exposureS}`)
  }
  const different = new Set(rungs.map(({ exposureS }) => exposureS)).size
  if (different < 3) {
    return refuse('too-few-rungs', 'Print at least three different exposures.', `${different} exposures, 3 needed`)
  }
  const logs = rungs.map(({ exposureS }) => Math.log(exposureS))
  const reference = logs.reduce((sum, log) => sum + log, 0) / logs.length
  const line = fitLine(
    logs.map((log) => log - reference),
    rungs.map(({ measured }) => measured.value),
    rungs.map(({ measured }) => measured.standardUncertainty ** -2),
  )
  if (!line.ok) return line
  const exposures = rungs.map(({ exposureS }) => exposureS)
  const rangeS = [Math.min(...exposures), Math.max(...exposures)] as const
  return { ok: true, value: { line: line.value, referenceS: Math.exp(reference), rangeS } }
}

/** Whether an exposure lies within those measured. */
export function covers({ rangeS }: LogExposureLine, exposureS: number): boolean {
  return exposureS >= rangeS[0] && exposureS <= rangeS[1]
}

/** Value of the line at an exposure between its rungs. */
export function valueOnLine({ line, referenceS }: LogExposureLine, exposureS: number): Estimate {
  const { slope, intercept, covariance } = line
  const u = Math.log(exposureS / referenceS)
  const variance = intercept.standardUncertainty ** 2 + 2 * u * covariance + (u * slope.standardUncertainty) ** 2
  return makeEstimate(intercept.value + u * slope.value, Math.sqrt(variance), slope.degreesOfFreedom)
}
