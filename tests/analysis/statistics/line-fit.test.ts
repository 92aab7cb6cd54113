import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fitLine } from '../../../analysis/statistics/line-fit.js'
import { fitLinear, polynomialDesign } from '../../../analysis/statistics/linear-least-squares.js'
import { readReference } from '../../support/reference.js'
import { relativeError, valueOf } from '../../support/outcomes.js'

interface CertifiedSet {
  x: number[]
  y: number[]
  dof: number
  parameters: { certified: number; sd: number }[]
  residual_sum_of_squares: number
  covariance_b0_b1: number
}

describe('Norris', () => {
  // NIST Statistical Reference Datasets, linear regression: 36 points, certified in multiple precision.
  const norris = readReference<CertifiedSet>('nist-strd/Norris')
  const line = valueOf(fitLine(norris.x, norris.y))

  it.each([
    ['intercept', 0],
    ['slope', 1],
  ] as const)('has the certified %s and standard deviation', (name, index) => {
    const { certified, sd } = norris.parameters[index]!
    // Of a double's fifteen digits four may be lost: NIST rates the set easy.
    expect(relativeError(line[name].value, certified)).toBeLessThan(1e-11)
    expect(relativeError(line[name].standardUncertainty, sd)).toBeLessThan(1e-11)
    expect(line[name].degreesOfFreedom).toBe(norris.dof)
  })

  it('has the certified residual sum of squares and the covariance that follows', () => {
    expect(relativeError(line.rss, norris.residual_sum_of_squares)).toBeLessThan(1e-11)
    // The covariance is that of the GNU Scientific Library's test, which asks for 1e-10 itself.
    expect(relativeError(line.covariance, norris.covariance_b0_b1)).toBeLessThan(1e-10)
    expect(line.residualDegreesOfFreedom).toBe(34)
  })
})

it('gives the thermometer calibration of the GUM, H.3, to every printed digit', () => {
  const gum = readReference<{
    reference_temperature_degC: number
    reading_degC: number[]
    correction_degC: number[]
    printed: Record<string, number>
  }>('gum-h3-thermometer')
  const x = gum.reading_degC.map((t) => t - gum.reference_temperature_degC)
  const { slope, intercept, covariance, birgeRatio } = valueOf(fitLine(x, gum.correction_degC))
  const printed = gum.printed
  expect(Number(intercept.value.toFixed(4))).toBe(printed['intercept'])
  expect(Number(intercept.standardUncertainty.toFixed(4))).toBe(printed['u_intercept'])
  expect(Number(slope.value.toFixed(5))).toBe(printed['slope'])
  expect(Number(slope.standardUncertainty.toFixed(5))).toBe(printed['u_slope'])
  expect(Number(birgeRatio!.toFixed(4))).toBe(printed['s'])
  const correlation = covariance / (slope.standardUncertainty * intercept.standardUncertainty)
  expect(Number(correlation.toFixed(2))).toBe(printed['correlation'])
  const at30 = intercept.value + 10 * slope.value
  const variance = intercept.standardUncertainty ** 2 + 100 * slope.standardUncertainty ** 2 + 20 * covariance
  expect(Number(at30.toFixed(4))).toBe(printed['correction_at_30'])
  expect(Number(Math.sqrt(variance).toFixed(4))).toBe(printed['u_correction_at_30'])
})

const points = fc.array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 })), {
  minLength: 3,
  maxLength: 12,
})

it('counts a point of weight three as three equal points', () => {
  fc.assert(
    fc.property(points, (data) => {
      const [x, y] = [data.map(([xi]) => xi), data.map(([, yi]) => yi)]
      fc.pre(new Set(x).size > 1)
      const weighted = valueOf(
        fitLine(
          x,
          y,
          x.map((_, i) => (i === 0 ? 3 : 1)),
          'given',
        ),
      )
      const repeated = valueOf(fitLine([x[0]!, x[0]!, ...x], [y[0]!, y[0]!, ...y], [1, 1, ...x.map(() => 1)], 'given'))
      // Same sums in another order; values of up to 50 leave rounding of about 1e-13.
      expect(Math.abs(weighted.slope.value - repeated.slope.value)).toBeLessThan(1e-10)
      expect(Math.abs(weighted.intercept.value - repeated.intercept.value)).toBeLessThan(1e-9)
      expect(relativeError(weighted.slope.standardUncertainty, repeated.slope.standardUncertainty)).toBeLessThan(1e-10)
    }),
  )
})

it('agrees with the general linear fit, weights and covariance included', () => {
  fc.assert(
    fc.property(points, fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 12, maxLength: 12 }), (data, weights) => {
      const [x, y] = [data.map(([xi]) => xi), data.map(([, yi]) => yi)]
      fc.pre(new Set(x).size > 1)
      const w = weights.slice(0, x.length)
      const line = valueOf(fitLine(x, y, w))
      const general = valueOf(fitLinear(polynomialDesign(x, 1), y, w))
      expect(Math.abs(line.intercept.value - general.coefficients[0]!)).toBeLessThan(1e-8)
      expect(Math.abs(line.slope.value - general.coefficients[1]!)).toBeLessThan(1e-9)
      expect(Math.abs(line.rss - general.rss)).toBeLessThan(1e-8 * (1 + line.rss))
      expect(Math.abs(line.covariance - general.covariance[0]![1]!)).toBeLessThan(1e-8)
      expect(line.slope.degreesOfFreedom ?? Infinity).toBeCloseTo(general.degreesOfFreedom ?? Infinity, 4)
    }),
  )
})

describe('the basis of the uncertainties', () => {
  const x = [0, 1, 2, 3]
  const y = [0, 1.2, 1.8, 3] // residuals of the line: rss 0.072 with unit weights
  const slopeU = (u: number, basis?: 'given' | 'scatter' | 'larger') => {
    const weights = y.map(() => u ** -2)
    return valueOf(basis ? fitLine(x, y, weights, basis) : fitLine(x, y, weights)).slope
  }

  it('is the stated uncertainty when the points scatter less', () => {
    expect(slopeU(1)).toStrictEqual(slopeU(1, 'given'))
    expect(slopeU(1).standardUncertainty).toBeCloseTo(Math.sqrt(1 / 5), 12) // u / sqrt(Sxx)
    expect(slopeU(1).degreesOfFreedom).toBeUndefined()
  })

  it('is the scatter when the points scatter more', () => {
    expect(slopeU(0.05).standardUncertainty).toBeCloseTo(slopeU(0.05, 'scatter').standardUncertainty, 12)
    expect(slopeU(0.05).standardUncertainty).toBeGreaterThan(slopeU(0.05, 'given').standardUncertainty)
    // Scatter decides, and has points less coefficients as degrees of freedom.
    expect(slopeU(0.05).degreesOfFreedom).toBe(2)
  })
})

it('refuses points that leave the line or its scatter undetermined', () => {
  expect(fitLine([1, 1, 1], [1, 2, 3])).toMatchObject({ ok: false, refusal: { code: 'too-few-points' } })
  expect(fitLine([1, 2], [1, 2])).toMatchObject({ ok: false, refusal: { code: 'too-few-points' } })
  expect(fitLine([], [])).toMatchObject({ ok: false, refusal: { code: 'too-few-points' } })
  // With stated uncertainties two points do make a line.
  const { slope, birgeRatio } = valueOf(fitLine([1, 2], [1, 2], [4, 4]))
  expect(slope.value).toBeCloseTo(1, 14)
  expect(slope.standardUncertainty).toBeCloseTo(Math.sqrt(0.5), 14) // sqrt(u1^2 + u2^2), u = 1/2
  expect(birgeRatio).toBeNull()
})

it.each([
  [() => fitLine([1, 2], [1]), 'fitLine needs 2 values of y, one an x, got 1'],
  [() => fitLine([1, 2], [1, 2], [1]), 'fitLine needs 2 weights, one an x, got 1'],
  [() => fitLine([1, Infinity], [1, 2]), 'fitLine needs finite values, got Infinity'],
  [() => fitLine([1, 2], [1, 2], [1, 0]), 'fitLine needs finite weights above 0, got 0'],
  [() => fitLine([1, 2], [1, 2], undefined, 'given'), 'fitLine needs weights for basis given, got none'],
])('throws for wrong arguments: %s', (call, message) => {
  expect(call).toThrow(new RangeError(message))
})
