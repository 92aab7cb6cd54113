import erf from '@stdlib/math-base-special-erf'
import { describe, expect, test } from 'vitest'
import { normalStep } from '../../../analysis/statistics/normal-step.js'

describe('normal step', () => {
  // Table of the normal distribution, five digits, as in NIST/SEMATECH e-Handbook 1.3.6.7.1 [from memory].
  test.each([
    [0, 0.5],
    [0.5, 0.69146],
    [1, 0.84134],
    [1.96, 0.975],
    [-1, 0.15866],
    [3, 0.99865],
  ])('of %f is what tables print', (u, expected) => {
    expect(normalStep(u)).toBeCloseTo(expected, 5)
  })

  test('lies within 1e-10 of a library between its tabled values, and beyond them', () => {
    let worst = 0
    for (let u = -9; u <= 9; u += 0.00137)
      worst = Math.max(worst, Math.abs(normalStep(u) - 0.5 * (1 + erf(u * Math.SQRT1_2))))
    expect(worst).toBeLessThan(1e-10)
  })

  test('ends at 0 and 1, and is no number where none is asked for', () => {
    expect([normalStep(-Infinity), normalStep(Infinity), normalStep(NaN)]).toEqual([0, 1, NaN])
  })
})
