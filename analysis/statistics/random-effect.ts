import { factorInPlace, solveInPlace } from './cholesky.js'
import { bisect } from './sign-intervals.js'

/** Readings of one thing, which share an offset of its own: the gratings of one coupon. */
export interface Cluster {
  /** Shape (m). */
  readonly y: readonly number[]
  /** Shape (m), of each reading by itself, above 0. */
  readonly variances: readonly number[]
  /** Of the offset they share, as far as it is known beforehand; at least 0. */
  readonly sharedVariance: number
  /** Shape (m, p): rows of the design. */
  readonly design: readonly (readonly number[])[]
}

/** Rows that are independent with unit variance, and say what the clusters say. */
export interface WhitenedRows {
  readonly y: number[]
  readonly design: number[][]
}

/**
 * Clusters as independent rows of unit variance: y and design multiplied by V^-1/2.
 *
 * V = D + k 11', D the readings' own variances, k the variance of what they share. With a the vector of 1/u of the
 * readings and A = a'a, V^-1/2 = (I - (1 - 1 / sqrt(1 + k A)) a a' / A) D^-1/2.
 *
 * @param spread variance between clusters beyond their `sharedVariance`
 * @see closed form of a rank-one change (Sherman-Morrison); checked against R's metafor
 */
export function whiten(clusters: readonly Cluster[], spread: number): WhitenedRows {
  const y: number[] = []
  const design: number[][] = []
  for (const cluster of clusters) {
    const a = cluster.variances.map((variance) => 1 / Math.sqrt(variance))
    const total = dot(a, a)
    const share = (1 - 1 / Math.sqrt(1 + (cluster.sharedVariance + spread) * total)) / total
    const whitenColumn = (column: readonly number[]) => {
      const scaled = column.map((value, i) => value * a[i]!)
      const along = share * dot(a, scaled)
      return scaled.map((value, i) => value - along * a[i]!)
    }
    y.push(...whitenColumn(cluster.y))
    const columns = cluster.design[0]!.map((_, j) => whitenColumn(cluster.design.map((row) => row[j]!)))
    design.push(...a.map((_, i) => columns.map((column) => column[i]!)))
  }
  return { y, design }
}

/**
 * Variance between clusters by restricted maximum likelihood (REML), the readings' own variances being given.
 *
 * Finds the zero of the restricted score
 *
 *   sum_i (1' V_i^-1 r_i)^2 - sum_i (1' V_i^-1 1 - g_i' C g_i),  g_i = X_i' V_i^-1 1,  C = (X' V^-1 X)^-1,
 *
 * r the residuals of generalised least squares; 0 when the score is negative there, that is when the stated variances
 * explain all scatter. With clusters of one reading and equal variances it is rss / (n - p) less the variance, at least
 * 0, as by Paule and Mandel.
 *
 * @param clusters more of them than coefficients that only differences between clusters tell
 * @see H. D. Patterson, R. Thompson, Biometrika 58 (1971) 545; R. C. Paule, J. Mandel, J. Res. NBS 87 (1982) 377 [both
 *   from memory]; checked against R's metafor
 */
export function spreadBetween(clusters: readonly Cluster[]): number {
  const negativeScore = (spread: number) => -restrictedScore(clusters, spread)
  if (negativeScore(0) >= 0) return 0
  let high = Math.max(...clusters.flatMap(({ sharedVariance, variances }) => variances.map((v) => v + sharedVariance)))
  while (negativeScore(high) < 0) high *= 4
  return bisect(negativeScore, 0, high)
}

function restrictedScore(clusters: readonly Cluster[], spread: number): number {
  const { y, design } = whiten(clusters, spread)
  const p = design[0]!.length
  const normal = new Float64Array(p * p)
  const coefficients = new Float64Array(p)
  for (const [row, x] of design.entries()) {
    for (let i = 0; i < p; i++) {
      coefficients[i]! += x[i]! * y[row]!
      for (let j = 0; j <= i; j++) normal[i * p + j]! += x[i]! * x[j]!
    }
  }
  if (!factorInPlace(normal, p)) throw new RangeError('spreadBetween needs columns that differ, got dependent ones')
  solveInPlace(normal, p, coefficients)
  let score = 0
  for (const { y, variances, sharedVariance, design } of clusters) {
    const total = variances.reduce((sum, variance) => sum + 1 / variance, 0)
    const shrink = 1 / (1 + (sharedVariance + spread) * total)
    // Both are multiplied by 1' V^-1.
    let residual = 0
    const g = new Float64Array(p)
    for (const [m, row] of design.entries()) {
      const weight = shrink / variances[m]!
      residual += weight * (y[m]! - dot(row, coefficients))
      for (let j = 0; j < p; j++) g[j]! += weight * row[j]!
    }
    const solved = g.slice()
    solveInPlace(normal, p, solved)
    score += residual ** 2 - shrink * total + dot(g, solved)
  }
  return score
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}
