import { factorInPlace, solveInPlace } from './cholesky.js'
import { lastInside } from './sign-intervals.js'

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
    y.push(...whitenColumn(cluster.y, a, share))
    const columns = cluster.design[0]!.map((_, j) =>
      whitenColumn(
        cluster.design.map((row) => row[j]!),
        a,
        share,
      ),
    )
    design.push(...a.map((_, i) => columns.map((column) => column[i]!)))
  }
  return { y, design }
}

function whitenColumn(column: readonly number[], a: readonly number[], share: number): number[] {
  const whitened = column.slice()
  for (let i = 0; i < a.length; i++) whitened[i]! *= a[i]!
  const along = share * dot(a, whitened)
  for (let i = 0; i < a.length; i++) whitened[i]! -= along * a[i]!
  return whitened
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
  const sums = clusters.map(sumsOf)
  const negativeScore = (spread: number) => -restrictedScore(sums, spread)
  if (negativeScore(0) >= 0) return 0
  let high = Math.max(...clusters.flatMap(({ sharedVariance, variances }) => variances.map((v) => v + sharedVariance)))
  while (negativeScore(high) < 0) high *= 4
  return lastInside(negativeScore, 0, high)
}

/** Of a cluster, each reading weighted by 1 / u^2: all that the score takes from it, whatever the spread. */
interface ClusterSums {
  readonly sharedVariance: number
  readonly weight: number
  readonly y: number
  /** Shape (p). */
  readonly x: Float64Array
  readonly xy: Float64Array
  /** Shape (p, p), lower triangle. */
  readonly xx: Float64Array
}

function sumsOf({ y, variances, sharedVariance, design }: Cluster): ClusterSums {
  const p = design[0]!.length
  const [x, xy, xx] = [new Float64Array(p), new Float64Array(p), new Float64Array(p * p)]
  let [weight, weightedY] = [0, 0]
  for (const [m, row] of design.entries()) {
    const w = 1 / variances[m]!
    weight += w
    weightedY += w * y[m]!
    for (let i = 0; i < p; i++) {
      x[i]! += w * row[i]!
      xy[i]! += w * row[i]! * y[m]!
      for (let j = 0; j <= i; j++) xx[i * p + j]! += w * row[i]! * row[j]!
    }
  }
  return { sharedVariance, weight, y: weightedY, x, xy, xx }
}

/** By V^-1 = D^-1 - k s D^-1 11' D^-1 with s = 1 / (1 + k 1' D^-1 1), k the variance of what a cluster shares. */
function restrictedScore(clusters: readonly ClusterSums[], spread: number): number {
  const p = clusters[0]!.x.length
  const normal = new Float64Array(p * p)
  const coefficients = new Float64Array(p)
  for (const { sharedVariance, weight, y, x, xy, xx } of clusters) {
    const share = (sharedVariance + spread) / (1 + (sharedVariance + spread) * weight)
    for (let i = 0; i < p; i++) {
      coefficients[i]! += xy[i]! - share * x[i]! * y
      for (let j = 0; j <= i; j++) normal[i * p + j]! += xx[i * p + j]! - share * x[i]! * x[j]!
    }
  }
  if (!factorInPlace(normal, p)) throw new RangeError('spreadBetween needs columns that differ, got dependent ones')
  solveInPlace(normal, p, coefficients)
  let score = 0
  for (const { sharedVariance, weight, y, x } of clusters) {
    const shrink = 1 / (1 + (sharedVariance + spread) * weight)
    const solved = x.slice()
    solveInPlace(normal, p, solved)
    // 1' V^-1 is shrink 1' D^-1.
    score += (shrink * (y - dot(x, coefficients))) ** 2 - shrink * weight + shrink ** 2 * dot(x, solved)
  }
  return score
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}
