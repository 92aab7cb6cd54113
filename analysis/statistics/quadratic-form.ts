/**
 * v' M v: variance of the combination v of numbers whose covariance is M. Rounding may not make it negative.
 *
 * @param matrix shape (n, n), symmetric
 * @param v shape (n)
 */
export function quadraticForm(matrix: readonly (readonly number[])[], v: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < v.length; i++) {
    const row = matrix[i]!
    for (let j = 0; j < v.length; j++) sum += v[i]! * row[j]! * v[j]!
  }
  return Math.max(0, sum)
}
