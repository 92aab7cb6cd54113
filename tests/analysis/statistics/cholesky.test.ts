import fc from 'fast-check'
import { expect, it } from 'vitest'
import { factorInPlace, invertFactored, solveInPlace } from '../../../analysis/statistics/cholesky.js'

it('factors a matrix whose factor is whole numbers', () => {
  // [[4, 12, -16], [12, 37, -43], [-16, -43, 98]] = L L' with L = [[2], [6, 1], [-8, 5, 3]], multiplied out by hand.
  const a = Float64Array.from([4, 12, -16, 12, 37, -43, -16, -43, 98])
  expect(factorInPlace(a, 3)).toBe(true)
  expect([a[0], a[3], a[4], a[6], a[7], a[8]]).toEqual([2, 6, 1, -8, 5, 3])
})

it('solves and inverts: A x = b and A A^-1 = 1', () => {
  const entries = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 16, maxLength: 16 })
  fc.assert(
    fc.property(entries, fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 4, maxLength: 4 }), (m, b) => {
      const n = 4
      // M M' + 1 is positive definite whatever M.
      const a = Float64Array.from({ length: n * n }, (_, at) => {
        const [i, j] = [Math.floor(at / n), at % n]
        return [0, 1, 2, 3].reduce((sum, k) => sum + m[i * n + k]! * m[j * n + k]!, i === j ? 1 : 0)
      })
      const factor = a.slice()
      expect(factorInPlace(factor, n)).toBe(true)
      const x = Float64Array.from(b)
      solveInPlace(factor, n, x)
      const inverse = invertFactored(factor, n)
      for (let i = 0; i < n; i++) {
        const row = a.subarray(i * n, i * n + n)
        const product = row.reduce((sum, value, k) => sum + value * x[k]!, 0)
        // Entries reach 325 with eigenvalues from 1 up: condition below 1300, so about four digits of fifteen go.
        expect(Math.abs(product - b[i]!)).toBeLessThan(1e-9)
        for (let j = 0; j < n; j++) {
          const entry = row.reduce((sum, value, k) => sum + value * inverse[k * n + j]!, 0)
          expect(Math.abs(entry - (i === j ? 1 : 0))).toBeLessThan(1e-9)
        }
      }
    }),
  )
})

it('says no to a matrix that is not positive definite, or barely', () => {
  expect(factorInPlace(Float64Array.from([1, 2, 2, 1]), 2)).toBe(false)
  expect(factorInPlace(Float64Array.from([1, 1, 1, 1 + 1e-14]), 2, 1e-13)).toBe(false)
  expect(factorInPlace(Float64Array.from([1, 1, 1, 1 + 1e-12]), 2, 1e-13)).toBe(true)
})
