import { expect, it } from 'vitest'
import { coverageFactor, studentQuantile } from '../../../analysis/statistics/quantiles.js'

// GUM (JCGM 100:2008) Table G.2, printed to two decimals [from memory].
it.each([
  [1, 0.95, 12.71],
  [4, 0.95, 2.78],
  [16, 0.99, 2.92],
  [50, 0.95, 2.01],
  [undefined, 0.95, 1.96],
  [undefined, 0.99, 2.576],
])('agrees with the GUM table of coverage factors at %s degrees of freedom for %d', (dof, coverage, printed) => {
  const decimals = printed === 2.576 ? 3 : 2
  expect(Number(coverageFactor(dof, coverage).toFixed(decimals))).toBe(printed)
})

it('is exact to a double for 8 degrees of freedom', () => {
  // 2.306004135204166: 40-digit arithmetic, in tests/reference/synthetic-working-curve.json.
  expect(Math.abs(studentQuantile(0.975, 8) - 2.306004135204166)).toBeLessThan(1e-14)
})

it('joins the normal distribution without a step where it takes over', () => {
  // t and normal differ by (z^3 + z) / (4 nu) to first order: 2.4e-6 at a million.
  const step = studentQuantile(0.975, 1e6) - studentQuantile(0.975, Infinity)
  expect(step).toBeGreaterThan(0)
  expect(step).toBeLessThan(3e-6)
})

it.each([
  [0, 5],
  [1, 5],
  [Number.NaN, 5],
  [0.5, 0],
  [0.5, Number.NaN],
])('throws for probability %d with %d degrees of freedom', (probability, dof) => {
  expect(() => studentQuantile(probability, dof)).toThrow(RangeError)
})
