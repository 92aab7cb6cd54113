import { expect, it } from 'vitest'
import { fitProcessTrend, type TrendPoint } from '../../../analysis/finish/process-trend.js'
import { fitLine } from '../../../analysis/statistics/line-fit.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'

const LADDERS = 300
const SLOPE = 0.002

/** Share of seeded ladders whose 95 % interval holds the true slope. */
function coverage(draw: (normal: () => number) => TrendPoint[]): number {
  const normal = normalDraws(11)
  const held = Array.from({ length: LADDERS }, () => {
    const { value, standardUncertainty, degreesOfFreedom } = valueOf(fitProcessTrend(draw(normal))).slope
    return Math.abs(value - SLOPE) <= coverageFactor(degreesOfFreedom) * standardUncertainty
  })
  return held.filter(Boolean).length / LADDERS
}

/** Six coupons on one photograph, which adds an error common to all. */
const onOnePhoto =
  (statedU: number, scatter: number) =>
  (normal: () => number): TrendPoint[] => {
    const common = 0.02 * normal()
    return [20, 22, 24, 26, 28, 30].map((amount, i) => ({
      amount,
      value: 0.1 + SLOPE * amount + common + scatter * normal(),
      standardUncertainty: statedU,
      coupon: `slot ${i}`,
      photo: 'one',
      photoUncertainty: 0.006,
    }))
  }

/** Five coupons, unlike each other, photographed again and again; each photograph adds its own common error. */
const photographedAgain =
  (days: readonly number[], photoScatter: number) =>
  (normal: () => number): TrendPoint[] => {
    const levels = Array.from({ length: 5 }, () => 0.05 * normal())
    return days.flatMap((amount) => {
      const common = photoScatter * normal()
      return levels.map((level, i) => ({
        amount,
        value: level + SLOPE * amount + common + 0.01 * normal(),
        standardUncertainty: 0.01,
        coupon: `slot ${i}`,
        photo: `day ${amount}`,
        photoUncertainty: 0.006,
      }))
    })
  }

// Nominal 95 %; over 300 ladders three binomial standard deviations below it is 0.912.
it.each([
  ['the stated uncertainty is the scatter', onOnePhoto(0.01, 0.01)],
  ['coupons scatter twice as much as stated', onOnePhoto(0.01, 0.02)],
  ['three photographs scatter as stated', photographedAgain([0, 30, 180], 0.006)],
  ['six photographs scatter as stated', photographedAgain([0, 30, 60, 120, 180, 365], 0.006)],
  ['six photographs scatter three times as much as stated', photographedAgain([0, 30, 60, 120, 180, 365], 0.02)],
])('holds the true slope in nineteen of twenty ladders when %s', (_, draw) => {
  expect(coverage(draw)).toBeGreaterThan(0.912)
})

it('does not count what a photograph adds to all its coupons against the slope within it', () => {
  // With equal uncertainties this is the straight line, slope uncertainty u / sqrt(Sxx), Sxx = 70 for 20 to 30 by 2.
  const points = onOnePhoto(0.01, 0)(() => 0)
  const slope = valueOf(fitProcessTrend(points)).slope
  expect(slope.standardUncertainty).toBeCloseTo(0.01 / Math.sqrt(70), 9)
  const far = valueOf(fitProcessTrend(points.map((one) => ({ ...one, photoUncertainty: 1 })))).slope
  expect(far.standardUncertainty).toBeCloseTo(slope.standardUncertainty, 9)
})

it('weights each reading by its stated uncertainty, as a weighted line does', () => {
  const normal = normalDraws(2)
  const points = onOnePhoto(0.01, 0.02)(normal).map((one, i) => ({ ...one, standardUncertainty: 0.005 * (i + 1) }))
  const line = valueOf(
    fitLine(
      points.map(({ amount }) => amount),
      points.map(({ value }) => value),
      points.map(({ standardUncertainty: u }) => u ** -2),
    ),
  )
  const { slope } = valueOf(fitProcessTrend(points.map((one) => ({ ...one, photoUncertainty: 0 }))))
  expect(slope.value).toBeCloseTo(line.slope.value, 9)
  expect(slope.standardUncertainty).toBeCloseTo(line.slope.standardUncertainty, 9)
})

it('refuses readings of one amount', () => {
  const points = onOnePhoto(0.01, 0.01)(normalDraws(1)).map((one) => ({ ...one, amount: 5 }))
  expect(fitProcessTrend(points)).toMatchObject({ refusal: { code: 'one-amount' } })
})
