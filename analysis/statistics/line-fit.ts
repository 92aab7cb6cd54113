import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from './estimate.js'
import { scaleOfNoise, type NoiseBasis } from './noise-scale.js'

export interface LineFit {
  readonly slope: Estimate
  /** Value of the line at x = 0. */
  readonly intercept: Estimate
  /** Covariance of slope and intercept, on the same basis as their uncertainties. */
  readonly covariance: number
  /** Sum of squared weighted residuals; chi-squared when the weights are 1/u^2. */
  readonly rss: number
  /** Points less 2. */
  readonly residualDegreesOfFreedom: number
  /** sqrt(rss / residual degrees of freedom); null for two points, which always lie on a line. */
  readonly birgeRatio: number | null
}

/**
 * Weighted straight line y = intercept + slope x by least squares.
 *
 *   slope = Sxy / Sxx,  var(slope) = s^2 / Sxx,  var(intercept) = s^2 (1/W + xm^2 / Sxx),  cov = -xm s^2 / Sxx
 *
 * with W the sum of weights, xm the weighted mean of x, sums about the means (which keeps digits), and s^2 the noise
 * scale of {@link scaleOfNoise}. Takes x as exact and the errors of y as independent.
 *
 * @param x shape (n)
 * @param y shape (n)
 * @param weights shape (n), 1/u^2 of each y, above 0; all 1 when absent
 * @param basis where the size of the noise comes from; default `larger` with weights, `scatter` without
 * @returns the line, or a refusal: `too-few-points` below two different x, or below three points on basis `scatter`
 * @throws {RangeError} if lengths differ, a number is not finite, a weight is not above 0, or the basis needs weights
 * @see any regression text; checked against NIST StRD "Norris" and JCGM 100:2008 example H.3
 * @example fitLine([1, 2, 3], [2, 4, 7]) // slope 2.50(29), intercept -0.67(62)
 */
export function fitLine(
  x: readonly number[],
  y: readonly number[],
  weights?: readonly number[],
  basis: NoiseBasis = weights ? 'larger' : 'scatter',
): Outcome<LineFit> {
  const w = weights ?? x.map(() => 1)
  requireLineData(x, y, w)
  if (!weights && basis !== 'scatter') throw new RangeError(`fitLine needs weights for basis ${basis}, got none`)

  const n = x.length
  const different = new Set(x).size
  const needed = basis === 'scatter' ? 3 : 2
  if (different < 2 || n < needed) {
    return refuse(
      'too-few-points',
      'Measure more points, at different settings.',
      `${n} points, ${different} different`,
    )
  }

  const total = sum(w)
  const xMean = sum(x.map((xi, i) => w[i]! * xi)) / total
  const yMean = sum(y.map((yi, i) => w[i]! * yi)) / total
  const sxx = sum(x.map((xi, i) => w[i]! * (xi - xMean) ** 2))
  const sxy = sum(x.map((xi, i) => w[i]! * (xi - xMean) * (y[i]! - yMean)))
  const slope = sxy / sxx
  const rss = sum(x.map((xi, i) => w[i]! * (y[i]! - yMean - slope * (xi - xMean)) ** 2))

  const residualDegreesOfFreedom = n - 2
  const { varianceFactor, degreesOfFreedom } = scaleOfNoise(rss, residualDegreesOfFreedom, basis)
  const slopeVariance = varianceFactor / sxx
  const interceptVariance = varianceFactor * (1 / total + xMean ** 2 / sxx)
  return {
    ok: true,
    value: {
      slope: makeEstimate(slope, Math.sqrt(slopeVariance), degreesOfFreedom),
      intercept: makeEstimate(yMean - slope * xMean, Math.sqrt(interceptVariance), degreesOfFreedom),
      covariance: -xMean * slopeVariance,
      rss,
      residualDegreesOfFreedom,
      birgeRatio: residualDegreesOfFreedom > 0 ? Math.sqrt(rss / residualDegreesOfFreedom) : null,
    },
  }
}

function requireLineData(x: readonly number[], y: readonly number[], w: readonly number[]): void {
  const need = (what: string, got: unknown) => new RangeError(`fitLine needs ${what}, got ${got}`)
  if (y.length !== x.length) throw need(`${x.length} values of y, one an x`, y.length)
  if (w.length !== x.length) throw need(`${x.length} weights, one an x`, w.length)
  for (const value of [...x, ...y]) if (!Number.isFinite(value)) throw need('finite values', value)
  for (const weight of w) if (!(weight > 0 && weight < Infinity)) throw need('finite weights above 0', weight)
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
