import fc from 'fast-check'
import { expect, it } from 'vitest'
import { solveFieller } from '../../../analysis/statistics/fieller.js'
import { readReference } from '../../support/reference.js'

// Bliss's beetle mortality as fitted by Dobson; logit of the share killed against log10 dose. See the file.
const { logit: beetles } = readReference<{
  logit: {
    intercept: number
    slope: number
    se_intercept: number
    se_slope: number
    cov: number
    ED50_fieller95: [number, number]
    ED90_fieller95: [number, number]
  }
}>('beetle-mortality')

it.each([
  ['50 %', 0.5, beetles.ED50_fieller95],
  ['90 %', 0.9, beetles.ED90_fieller95],
])('bounds the dose that kills %s of the beetles', (_, share, [low, high]) => {
  const set = solveFieller(
    {
      intercept: beetles.intercept - Math.log(share / (1 - share)),
      slope: beetles.slope,
      interceptVariance: beetles.se_intercept ** 2,
      slopeVariance: beetles.se_slope ** 2,
      covariance: beetles.cov,
    },
    1.959963984540054,
  )
  if (set.kind !== 'bounded') throw new Error(set.kind)
  // The coefficients have 15 digits; intercept and slope nearly cancel, which costs four.
  expect(Math.abs(set.low - low)).toBeLessThan(1e-10)
  expect(Math.abs(set.high - high)).toBeLessThan(1e-10)
})

const curve = readReference<{
  slope_Dp_um: number
  intercept_um: number
  se_Dp: number
  se_intercept: number
  cov_intercept_slope: number
  s: number
  t975: number
  lnEc_fieller95: [number, number]
  inverse_Cd150: { lnE_fieller95_line: [number, number]; lnE_fieller95_one_new_obs: [number, number] }
}>('synthetic-working-curve')

// A working curve made for this project, its statistics from 40-digit arithmetic.
it.each([
  ['the critical exposure', 0, 0, curve.lnEc_fieller95],
  ['the exposure for 150 um, of the line itself', 150, 0, curve.inverse_Cd150.lnE_fieller95_line],
  ['the exposure for one new observation of 150 um', 150, curve.s ** 2, curve.inverse_Cd150.lnE_fieller95_one_new_obs],
])('bounds %s on a working curve', (_, target, extraVariance, [low, high]) => {
  const set = solveFieller(
    {
      intercept: curve.intercept_um - target,
      slope: curve.slope_Dp_um,
      interceptVariance: curve.se_intercept ** 2 + extraVariance,
      slopeVariance: curve.se_Dp ** 2,
      covariance: curve.cov_intercept_slope,
    },
    curve.t975,
  )
  if (set.kind !== 'bounded') throw new Error(set.kind)
  expect(Math.abs(set.low - low)).toBeLessThan(1e-11)
  expect(Math.abs(set.high - high)).toBeLessThan(1e-11)
})

/** Any line with a proper covariance. */
const lines = fc
  .record({
    intercept: fc.double({ min: -10, max: 10, noNaN: true }),
    slope: fc.double({ min: -10, max: 10, noNaN: true }),
    interceptU: fc.double({ min: 0.01, max: 10, noNaN: true }),
    slopeU: fc.double({ min: 0.01, max: 10, noNaN: true }),
    correlation: fc.double({ min: -0.99, max: 0.99, noNaN: true }),
  })
  .map(({ intercept, slope, interceptU, slopeU, correlation }) => ({
    intercept,
    slope,
    interceptVariance: interceptU ** 2,
    slopeVariance: slopeU ** 2,
    covariance: correlation * interceptU * slopeU,
  }))

it('holds exactly the x at which the line is within t standard uncertainties of zero, whatever its shape', () => {
  const shapes = new Set<string>()
  fc.assert(
    fc.property(lines, fc.double({ min: -20, max: 20, noNaN: true }), (line, x) => {
      const t = 2
      const value = line.intercept + line.slope * x
      const variance = line.interceptVariance + 2 * x * line.covariance + x ** 2 * line.slopeVariance
      const margin = value ** 2 / (t ** 2 * variance) - 1
      fc.pre(Math.abs(margin) > 1e-9) // at the very end of an interval rounding decides
      const set = solveFieller(line, t)
      shapes.add(set.kind)
      const inside =
        set.kind === 'everything' ||
        (set.kind === 'bounded' ? x >= set.low && x <= set.high : x <= set.below || x >= set.above)
      expect(inside).toBe(margin < 0)
    }),
    { seed: 7, numRuns: 2000 },
  )
  expect([...shapes].sort()).toEqual(['bounded', 'disjoint', 'everything'])
})

it('reaches to infinity on one side when the slope is exactly at the edge of significance', () => {
  const line = { intercept: -1, slope: 2, interceptVariance: 0.01, slopeVariance: 1, covariance: 0 }
  // (b^2 - 4 vb) = 0 leaves -4 x + (1 - 0.04) <= 0.
  expect(solveFieller(line, 2)).toEqual({ kind: 'bounded', low: 0.24, high: Infinity })
  expect(solveFieller({ ...line, slope: -2 }, 2)).toEqual({ kind: 'bounded', low: -Infinity, high: -0.24 })
})
