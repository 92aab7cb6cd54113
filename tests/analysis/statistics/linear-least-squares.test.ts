import { describe, expect, it } from 'vitest'
import { fitLinear, polynomialDesign } from '../../../analysis/statistics/linear-least-squares.js'
import { readReference } from '../../support/reference.js'
import { relativeError, valueOf } from '../../support/outcomes.js'

describe('Pontius', () => {
  // NIST Statistical Reference Datasets, linear regression: a quadratic through 40 points, x up to 3e6, not centred.
  const pontius = readReference<{
    x: number[]
    y: number[]
    parameters: { certified: number; sd: number }[]
    residual_sum_of_squares: number
    unscaled_covariance: number[][]
  }>('nist-strd/Pontius')
  const design = polynomialDesign(pontius.x, 2)
  const fit = valueOf(fitLinear(design, pontius.y))

  it('has the certified coefficients, standard deviations and residual sum of squares', () => {
    for (const [j, { certified, sd }] of pontius.parameters.entries()) {
      // x^2 reaches 1e13 beside the constant's 1: five digits of fifteen may go.
      expect(relativeError(fit.coefficients[j]!, certified)).toBeLessThan(1e-10)
      expect(relativeError(Math.sqrt(fit.covariance[j]![j]!), sd)).toBeLessThan(1e-10)
    }
    expect(relativeError(fit.rss, pontius.residual_sum_of_squares)).toBeLessThan(1e-10)
    expect(fit.residualDegreesOfFreedom).toBe(37)
    expect(fit.degreesOfFreedom).toBe(37)
  })

  it('has the whole covariance known from the GNU Scientific Library when the noise is given as 1', () => {
    const given = valueOf(
      fitLinear(
        design,
        pontius.y,
        pontius.y.map(() => 1),
        'given',
      ),
    )
    for (const [i, row] of pontius.unscaled_covariance.entries()) {
      for (const [j, value] of row.entries()) {
        expect(relativeError(given.covariance[i]![j]!, value)).toBeLessThan(1e-10) // the library's own tolerance
      }
    }
    expect(given.degreesOfFreedom).toBeUndefined()
  })
})

it('weights: gives a mean by weights 1/u^2 its textbook value and uncertainty', () => {
  // 10 +- 1 and 12 +- 2: mean (10 + 12/4) / (1 + 1/4) = 10.4, u = 1/sqrt(1.25).
  const fit = valueOf(fitLinear([[1], [1]], [10, 12], [1, 0.25], 'given'))
  expect(fit.coefficients[0]).toBeCloseTo(10.4, 13)
  expect(Math.sqrt(fit.covariance[0]![0]!)).toBeCloseTo(1 / Math.sqrt(1.25), 13)
  expect(fit.residuals[0]).toBeCloseTo(-0.4, 13)
  expect(fit.residuals[1]).toBeCloseTo(1.6, 13)
})

it('refuses what the points cannot determine', () => {
  expect(fitLinear(polynomialDesign([1, 2], 2), [1, 2])).toMatchObject({ refusal: { code: 'too-few-points' } })
  expect(fitLinear(polynomialDesign([1, 2, 3], 2), [1, 2, 3])).toMatchObject({ refusal: { code: 'too-few-points' } })
  const twoSettings = polynomialDesign([1, 1, 2, 2, 2], 2)
  expect(fitLinear(twoSettings, [1, 2, 3, 4, 5])).toMatchObject({ refusal: { code: 'dependent-columns' } })
  const zeros = [0, 1, 2, 3].map((x) => [1, 0 * x])
  expect(fitLinear(zeros, [1, 2, 3, 4])).toMatchObject({ refusal: { code: 'dependent-columns' } })
})

it.each([
  [() => fitLinear([[1]], [1, 2]), 'fitLinear needs 2 rows of the design, one a point, got 1'],
  [() => fitLinear([[1], [1, 2]], [1, 2]), 'fitLinear needs rows of 1 values, got 2'],
  [() => fitLinear([[1], [Number.NaN]], [1, 2]), 'fitLinear needs finite values, got NaN'],
  [() => fitLinear([[1], [1]], [1, 2], [1, -1]), 'fitLinear needs finite weights above 0, got -1'],
  [() => fitLinear([[1], [1]], [1, 2], [1]), 'fitLinear needs 2 weights, one a point, got 1'],
  [() => fitLinear([[1], [1]], [1, 2], undefined, 'larger'), 'fitLinear needs weights for basis larger, got none'],
])('throws for wrong arguments: %s', (call, message) => {
  expect(call).toThrow(new RangeError(message))
})
