import { Matrix, QrDecomposition, inverse } from 'ml-matrix'
import { refuse, type Outcome } from '../outcome.js'
import { scaleOfNoise, type NoiseBasis } from './noise-scale.js'

export interface LinearFit {
  /** Shape (p), one a column of the design. */
  readonly coefficients: readonly number[]
  /** Shape (p, p), covariance of the coefficients, scaled by the noise. */
  readonly covariance: readonly (readonly number[])[]
  /** Degrees of freedom of that covariance; absent when infinite. */
  readonly degreesOfFreedom?: number
  /** Shape (n), observed less fitted, not weighted. */
  readonly residuals: readonly number[]
  /** Sum of squared weighted residuals; chi-squared when the weights are 1/u^2. */
  readonly rss: number
  /** Points less coefficients. */
  readonly residualDegreesOfFreedom: number
}

/**
 * Weighted least squares for any model that is linear in its coefficients, y = X b.
 *
 * Solved by the QR decomposition of sqrt(W) X with its columns scaled to unit length, which loses half as many digits
 * as the normal equations. Covariance = s^2 (X'WX)^-1 = s^2 R^-1 R^-T, s^2 the noise scale of {@link scaleOfNoise}.
 *
 * @param design shape (n, p), a row a point; see {@link polynomialDesign}
 * @param y shape (n)
 * @param weights shape (n), 1/u^2 of each y, above 0; all 1 when absent
 * @param basis where the size of the noise comes from; default `larger` with weights, `scatter` without
 * @returns the fit, or a refusal: `too-few-points` when p coefficients need more, `dependent-columns` when the points
 *   cannot tell the coefficients apart
 * @throws {RangeError} if shapes differ, a number is not finite, a weight is not above 0, or the basis needs weights
 * @see Å. Björck, Numerical Methods for Least Squares Problems (SIAM 1996) 2.4 [from memory]; checked against NIST StRD
 * @example fitLinear(polynomialDesign([1, 2, 3], 1), [2, 4, 7]) // coefficients -0.667, 2.5
 */
export function fitLinear(
  design: readonly (readonly number[])[],
  y: readonly number[],
  weights?: readonly number[],
  basis: NoiseBasis = weights ? 'larger' : 'scatter',
): Outcome<LinearFit> {
  const w = weights ?? y.map(() => 1)
  requireDesign(design, y, w)
  if (!weights && basis !== 'scatter') throw new RangeError(`fitLinear needs weights for basis ${basis}, got none`)

  const n = y.length
  const p = design[0]?.length ?? 0
  const residualDegreesOfFreedom = n - p
  if (p === 0 || residualDegreesOfFreedom < (basis === 'scatter' ? 1 : 0)) {
    return refuse('too-few-points', 'Measure more points.', `${n} points for ${p} coefficients`)
  }

  const roots = w.map(Math.sqrt)
  const scaled = new Matrix(design.map((row, i) => row.map((value) => value * roots[i]!)))
  const lengths = Array.from({ length: p }, (_, j) => scaled.getColumnVector(j).norm())
  if (lengths.includes(0)) return dependent('a column of zeros')
  for (const [j, length] of lengths.entries()) scaled.mulColumn(j, 1 / length)

  const qr = new QrDecomposition(scaled)
  const r = qr.upperTriangularMatrix
  const diagonal = r.diagonal().map(Math.abs)
  // With unit columns a diagonal near zero is a column that the earlier ones reproduce to within rounding.
  if (Math.min(...diagonal) < n * Number.EPSILON) return dependent(`smallest diagonal ${Math.min(...diagonal)}`)

  const solution = qr.solve(Matrix.columnVector(y.map((value, i) => value * roots[i]!))).to1DArray()
  const coefficients = solution.map((value, j) => value / lengths[j]!)
  const residuals = y.slice()
  let rss = 0
  for (let i = 0; i < n; i++) {
    let fitted = 0
    for (let j = 0; j < p; j++) fitted += design[i]![j]! * coefficients[j]!
    residuals[i]! -= fitted
    rss += w[i]! * residuals[i]! ** 2
  }

  const { varianceFactor, degreesOfFreedom } = scaleOfNoise(rss, residualDegreesOfFreedom, basis)
  const rInverse = inverse(r)
  const covariance = rInverse
    .mmul(rInverse.transpose())
    .to2DArray()
    .map((row, i) => row.map((value, j) => (value * varianceFactor) / (lengths[i]! * lengths[j]!)))
  return {
    ok: true,
    value: {
      coefficients,
      covariance,
      residuals,
      rss,
      residualDegreesOfFreedom,
      ...(degreesOfFreedom === Infinity ? {} : { degreesOfFreedom }),
    },
  }
}

/**
 * Design of a polynomial b0 + b1 x + ... + bd x^d: shape (n, d + 1), powers of x from 0 up.
 *
 * Centre x before a quadratic or higher, or the columns become nearly alike.
 * @example polynomialDesign([2, 3], 2) // [[1, 2, 4], [1, 3, 9]]
 */
export function polynomialDesign(x: readonly number[], degree: number): number[][] {
  return x.map((value) => Array.from({ length: degree + 1 }, (_, power) => value ** power))
}

function dependent(detail: string): Outcome<never> {
  return refuse('dependent-columns', 'Measure at more different settings.', detail)
}

function requireDesign(design: readonly (readonly number[])[], y: readonly number[], w: readonly number[]): void {
  const need = (what: string, got: unknown) => new RangeError(`fitLinear needs ${what}, got ${got}`)
  if (design.length !== y.length) throw need(`${y.length} rows of the design, one a point`, design.length)
  if (w.length !== y.length) throw need(`${y.length} weights, one a point`, w.length)
  for (const row of design) {
    if (row.length !== design[0]!.length) throw need(`rows of ${design[0]!.length} values`, row.length)
    for (const value of row) if (!Number.isFinite(value)) throw need('finite values', value)
  }
  for (const value of y) if (!Number.isFinite(value)) throw need('finite values', value)
  for (const weight of w) if (!(weight > 0 && weight < Infinity)) throw need('finite weights above 0', weight)
}
