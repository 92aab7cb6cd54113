/**
 * Cholesky factor of a symmetric positive definite matrix, in place: A = L L'.
 *
 * @param a shape (n, n), row-major; only the lower triangle is read, and it is overwritten by L
 * @param smallestPivot a pivot at or below it counts as not positive
 * @returns whether the matrix is positive definite; if not, `a` is spoilt
 * @see any text on numerical linear algebra
 */
export function factorInPlace(a: Float64Array, n: number, smallestPivot = 0): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = a[i * n + j]!
      for (let k = 0; k < j; k++) rest -= a[i * n + k]! * a[j * n + k]!
      if (i !== j) a[i * n + j] = rest / a[j * n + j]!
      else if (rest > smallestPivot) a[i * n + i] = Math.sqrt(rest)
      else return false
    }
  }
  return true
}

/**
 * Solves L L' x = b in place.
 *
 * @param factor shape (n, n), the lower triangle from {@link factorInPlace}
 * @param b shape (n), overwritten by x
 */
export function solveInPlace(factor: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let rest = b[i]!
    for (let k = 0; k < i; k++) rest -= factor[i * n + k]! * b[k]!
    b[i] = rest / factor[i * n + i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    let rest = b[i]!
    for (let k = i + 1; k < n; k++) rest -= factor[k * n + i]! * b[k]!
    b[i] = rest / factor[i * n + i]!
  }
}

/**
 * @param factor shape (n, n), the lower triangle from {@link factorInPlace}
 * @returns shape (n, n), row-major, both triangles: the inverse of the matrix that was factored
 */
export function invertFactored(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n)
  const column = new Float64Array(n)
  for (let j = 0; j < n; j++) {
    column.fill(0)
    column[j] = 1
    solveInPlace(factor, n, column)
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]!
  }
  return inverse
}
