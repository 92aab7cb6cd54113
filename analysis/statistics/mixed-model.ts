import { Matrix, inverse, solve } from 'ml-matrix'
import { refuse, type Outcome } from '../outcome.js'
import { factorInPlace, invertFactored } from './cholesky.js'
import { makeEstimate, type Estimate } from './estimate.js'
import { fitLinear } from './linear-least-squares.js'

export interface MixedModel {
  /** Shape (p), one a column of the design. */
  readonly coefficients: readonly number[]
  /** Shape (p, p). */
  readonly covariance: readonly (readonly number[])[]
  /** Variance of each random factor, in the order given; 0 when the data show none. */
  readonly variances: readonly number[]
  readonly residualVariance: number
  /** Restricted. */
  readonly logLikelihood: number
  /** Estimate of a linear combination of the coefficients, shape (p), with Satterthwaite's degrees of freedom. */
  readonly contrast: (weights: readonly number[]) => Estimate
}

const ITERATIONS = 200
const TOLERANCE = 1e-10

/**
 * Linear mixed model y = X b + sum Z_i u_i + e by restricted maximum likelihood, any number of crossed or nested factors.
 *
 *   V = sum s_i Z_i Z_i' + s_e I,   P = V^-1 - V^-1 X (X'V^-1 X)^-1 X'V^-1
 *   score_i = (|Z_i'P y|^2 - tr(Z_i'P Z_i)) / 2,   expected information_ij = |Z_i'P Z_j|^2 / 2
 *
 * solved by Fisher scoring with step halving; a variance that would fall below 0 stays at 0. Contrasts take
 * Satterthwaite's degrees of freedom 2 g^2 / (g' A g), A from the observed information. Dense: cost grows as n^3.
 *
 * @param design shape (n, p), of full rank
 * @param y shape (n)
 * @param factors shape (q, n), level of each observation in each factor; no factor may be told by the design alone
 * @returns the model, or a refusal: those of {@link fitLinear}, `no-scatter` when the design reproduces y exactly,
 *   `no-convergence`
 * @see S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (Wiley 1992) ch. 6 and 8 [from memory];
 *   A. Kuznetsova et al., J. Stat. Softw. 82 (2017) 13 for the degrees of freedom; checked against lme4, nlme, lmerTest
 */
export function fitMixedModel(
  design: readonly (readonly number[])[],
  y: readonly number[],
  factors: readonly (readonly (string | number)[])[],
): Outcome<MixedModel> {
  const plain = fitLinear(design, y)
  if (!plain.ok) return plain
  const total = plain.value.rss / plain.value.residualDegreesOfFreedom
  const size = Math.max(...y.map(Math.abs))
  if (!(total > (size * 1e-12) ** 2)) {
    return refuse('no-scatter', 'Measure with more digits.', 'all values of a group are the same')
  }
  const levels = [...factors.map(numberLevels), y.map((_, i) => i)]
  let variances = levels.map(() => total / levels.length)
  let now = evaluate(design, y, levels, variances)
  for (let i = 0; i < ITERATIONS && now; i++) {
    const free = variances.flatMap((s, j) => (s > 0 || now!.score[j]! > 0 ? [j] : []))
    const step = solve(
      new Matrix(free.map((j) => free.map((k) => now!.expected[j]![k]!))),
      Matrix.columnVector(free.map((j) => now!.score[j]!)),
    ).to1DArray()
    const floor = total * 1e-9
    const moved = (share: number) =>
      variances.map((s, j) => {
        const next = s + share * (step[free.indexOf(j)] ?? 0)
        // The residual's variance, the last, cannot be 0: V would be singular.
        return Math.max(next, j === levels.length - 1 ? floor : 0)
      })
    let share = 1
    let next = moved(share)
    let there = evaluate(design, y, levels, next)
    while ((!there || there.logLikelihood < now.logLikelihood - 1e-12) && share > 1e-8) {
      share /= 2
      next = moved(share)
      there = evaluate(design, y, levels, next)
    }
    if (!there) break
    const change = Math.max(...next.map((s, j) => Math.abs(s - variances[j]!))) / total
    variances = next
    now = there
    if (change < TOLERANCE) return { ok: true, value: describe(design, levels, variances, now) }
  }
  return refuse(
    'no-convergence',
    'Compare more coupons.',
    `restricted likelihood still rising after ${ITERATIONS} steps`,
  )
}

interface Evaluation {
  readonly logLikelihood: number
  readonly score: readonly number[]
  readonly expected: readonly (readonly number[])[]
  readonly observed: readonly (readonly number[])[]
  readonly coefficients: readonly number[]
  readonly covariance: Matrix
  /** V^-1 X, shape (n, p). */
  readonly weighted: Matrix
}

function evaluate(
  design: readonly (readonly number[])[],
  y: readonly number[],
  levels: readonly (readonly number[])[],
  variances: readonly number[],
): Evaluation | undefined {
  const n = y.length
  const v = new Float64Array(n * n)
  for (const [f, level] of levels.entries()) {
    for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) if (level[a] === level[b]) v[a * n + b]! += variances[f]!
  }
  if (!factorInPlace(v, n)) return undefined
  let logDet = 0
  for (let a = 0; a < n; a++) logDet += 2 * Math.log(v[a * n + a]!)
  const vInverse = Matrix.from1DArray(n, n, Array.from(invertFactored(v, n)))
  const x = new Matrix(design.map((row) => [...row]))
  const weighted = vInverse.mmul(x)
  const information = x.transpose().mmul(weighted)
  const p = information.rows
  const small = Float64Array.from(information.to1DArray())
  if (!factorInPlace(small, p)) return undefined
  for (let a = 0; a < p; a++) logDet += 2 * Math.log(small[a * p + a]!)
  const covariance = Matrix.from1DArray(p, p, Array.from(invertFactored(small, p)))
  const column = Matrix.columnVector([...y])
  const coefficients = covariance.mmul(weighted.transpose().mmul(column)).to1DArray()
  const projection = vInverse.sub(weighted.mmul(covariance).mmul(weighted.transpose()))
  const py = projection.mmul(column).to1DArray()
  const quadratic = py.reduce((sum, value, i) => sum + value * y[i]!, 0)

  const sums = levels.map((level) =>
    sumByLevel(
      py.map((value) => [value]),
      level,
    ).map(([value]) => value!),
  )
  const pz = levels.map((level) => sumByLevel(projection.transpose().to2DArray(), level))
  const crossed = levels.map((one) =>
    // pz[j] holds rows of Z_j'P; summing its columns by the other factor gives Z_j'P Z_i.
    pz.map((rows) =>
      rows.map((row) =>
        sumByLevel(
          row.map((value) => [value]),
          one,
        ).map(([value]) => value!),
      ),
    ),
  )
  const square = (i: number, j: number) => crossed[i]![j]!.flat().reduce((sum, value) => sum + value * value, 0)
  const bilinear = (i: number, j: number) =>
    crossed[i]![j]!.reduce(
      (sum, row, a) => sum + sums[j]![a]! * row.reduce((inner, value, b) => inner + value * sums[i]![b]!, 0),
      0,
    )
  const all = levels.map((_, i) => i)
  return {
    logLikelihood: -(logDet + quadratic + (n - p) * Math.log(2 * Math.PI)) / 2,
    score: all.map((i) => {
      const trace = crossed[i]![i]!.reduce((sum, row, a) => sum + row[a]!, 0)
      return (sums[i]!.reduce((sum, value) => sum + value * value, 0) - trace) / 2
    }),
    expected: all.map((i) => all.map((j) => square(i, j) / 2)),
    observed: all.map((i) => all.map((j) => bilinear(i, j) - square(i, j) / 2)),
    coefficients,
    covariance,
    weighted,
  }
}

function describe(
  design: readonly (readonly number[])[],
  levels: readonly (readonly number[])[],
  variances: readonly number[],
  { coefficients, covariance, weighted, observed, logLikelihood }: Evaluation,
): MixedModel {
  const free = variances.flatMap((s, j) => (s > 0 ? [j] : []))
  const spread = inverse(new Matrix(free.map((j) => free.map((k) => observed[j]![k]!))))
  const contrast = (weights: readonly number[]): Estimate => {
    if (weights.length !== design[0]!.length) {
      throw new RangeError(`contrast needs ${design[0]!.length} weights, got ${weights.length}`)
    }
    const along = covariance.mmul(Matrix.columnVector([...weights]))
    const value = weights.reduce((sum, weight, i) => sum + weight * coefficients[i]!, 0)
    const variance = weights.reduce((sum, weight, i) => sum + weight * along.get(i, 0), 0)
    const influence = weighted.mmul(along).to2DArray()
    const gradient = free.map((j) => sumByLevel(influence, levels[j]!).reduce((sum, [one]) => sum + one! * one!, 0))
    const column = Matrix.columnVector(gradient)
    const spreadOfVariance = column.transpose().mmul(spread).mmul(column).get(0, 0)
    return makeEstimate(value, Math.sqrt(variance), (2 * variance ** 2) / spreadOfVariance)
  }
  return {
    coefficients,
    covariance: covariance.to2DArray(),
    variances: variances.slice(0, -1),
    residualVariance: variances.at(-1)!,
    logLikelihood,
    contrast,
  }
}

/** Names of levels as numbers from 0. */
export function numberLevels(names: readonly (string | number)[]): number[] {
  const seen = [...new Set(names)]
  const place = new Map(seen.map((name, i) => [name, i]))
  return names.map((name) => place.get(name)!)
}

/** Z'M: rows of a matrix, shape (n, m), summed by level. */
function sumByLevel(rows: readonly (readonly number[])[], level: readonly number[]): number[][] {
  const sums: number[][] = []
  for (const [i, row] of rows.entries()) {
    const sum = (sums[level[i]!] ??= row.map(() => 0))
    for (let j = 0; j < row.length; j++) sum[j]! += row[j]!
  }
  return sums
}
