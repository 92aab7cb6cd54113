import { expect, it } from 'vitest'
import { couponsNeeded, smallestDetectable } from '../../../analysis/compare/detectable.js'
import { adjustedP, simultaneousFactor } from '../../../analysis/statistics/simultaneous.js'
import { readReference } from '../../support/reference.js'

const { power } = readReference<{ power: { n: number[]; difference80: number[]; difference95: number[] } }>(
  'compare-groups',
)
const design = (n: number) => ({
  groups: 2,
  degreesOfFreedom: 2 * n - 2,
  scatterVariance: 2 / n,
  fixedVariance: 0,
  coupons: n,
})

// R's power.t.test, by the noncentral t. The shares are what the docstring says of the t approximation.
const OFF = [0.071, 0.012, 0.012, 0.012, 0.012, 0.012]
it('comes near the noncentral t', () => {
  for (const [i, n] of power.n.entries()) {
    for (const [chance, exact] of [
      [0.8, power.difference80[i]!],
      [0.95, power.difference95[i]!],
    ] as const) {
      const off = 1 - smallestDetectable(design(n), chance) / exact
      expect(Math.abs(off), `${n} coupons, ${chance}: ${off}`).toBeLessThan(OFF[i]!)
    }
  }
})

it('asks for the coupons at which the difference becomes detectable', () => {
  for (const [i, n] of power.n.entries()) {
    if (n < 4) continue
    // A little more than R's difference for n coupons needs n, for any design it starts from.
    expect(couponsNeeded(design(3), power.difference80[i]! * 1.001, 0.8)).toBe(n)
  }
})

it('says when no number of coupons shows it', () => {
  // 1.96 + 0.84 standard uncertainties of 1 remain however many coupons there are.
  expect(couponsNeeded({ ...design(5), fixedVariance: 1 }, 2.7, 0.8)).toBeUndefined()
  expect(couponsNeeded({ ...design(5), fixedVariance: 1 }, 2.9, 0.8)).toBeGreaterThan(5)
  expect(couponsNeeded({ ...design(1), degreesOfFreedom: Infinity }, 2.9, 0.8)).toBeUndefined()
})

it('widens intervals of several differences, by Bonferroni where the range has no table', () => {
  // qtukey(0.95, 3, 10) = 3.877676 by R 4.2.2, given to four decimals.
  expect(simultaneousFactor({ groups: 3, degreesOfFreedom: 10 })).toBeCloseTo(3.877676 / Math.SQRT2, 2)
  expect(simultaneousFactor({ groups: 2, degreesOfFreedom: 8 })).toBeCloseTo(2.306, 3)
  // Three differences at 1 degree of freedom: t(1 - 0.05/6, 1) = tan(pi (1/2 - 0.05/6)).
  const cauchy = Math.tan(Math.PI * (0.5 - 0.05 / 6))
  expect(simultaneousFactor({ groups: 3, degreesOfFreedom: 1 })).toBeCloseTo(cauchy, 6)
  expect(adjustedP(cauchy, { groups: 3, degreesOfFreedom: 1 })).toBeCloseTo(0.05, 6)
})
