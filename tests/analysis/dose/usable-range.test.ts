import { expect, it } from 'vitest'
import { fitGrowth, growthAt } from '../../../analysis/dose/growth-fit.js'
import { findUsableRange } from '../../../analysis/dose/usable-range.js'
import { makeRungs } from '../../support/ladders.js'
import { valueOf } from '../../support/outcomes.js'

const EXPOSURES = [1.2, 1.6, 2, 2.5, 3.1, 4]
/** 30 um per ln(exposure), zero at 2.2 s, without noise. */
const straight = (u: number, commonUncertaintyUm = 0) =>
  valueOf(
    fitGrowth(
      makeRungs(
        EXPOSURES.map((e) => [e, 30 * Math.log(e / 2.2)]),
        u,
      ),
      { commonUncertaintyUm },
    ),
  )

it('is where the line stays within the tolerance: 2.2 exp(+- tolerance / slope)', () => {
  const { rangeS, reachesEnd, latitudePercent } = valueOf(findUsableRange(straight(0.5), { toleranceUm: 9 }))
  expect(rangeS[0]).toBeCloseTo(2.2 * Math.exp(-0.3), 10)
  expect(rangeS[1]).toBeCloseTo(2.2 * Math.exp(0.3), 10)
  expect(reachesEnd).toEqual({ low: false, high: false })
  expect(latitudePercent).toBeCloseTo(100 * 2 * Math.sinh(0.3), 8)
})

it('ends at the rungs, exactly, and says so', () => {
  const { rangeS, reachesEnd, confidentRangeS } = valueOf(findUsableRange(straight(0.5), { toleranceUm: 60 }))
  expect(rangeS).toEqual([1.2, 4])
  expect(confidentRangeS).toEqual([1.2, 4])
  expect(reachesEnd).toEqual({ low: true, high: true })
})

it('is confident only where growth and 1.645 standard uncertainties stay within', () => {
  // So exact that no other model has any weight.
  const fit = straight(0.02, 3)
  const { rangeS, confidentRangeS } = valueOf(findUsableRange(fit, { toleranceUm: 9 }))
  expect(confidentRangeS![0]).toBeGreaterThan(rangeS[0])
  expect(confidentRangeS![1]).toBeLessThan(rangeS[1])
  for (const end of confidentRangeS!) {
    const { value, standardUncertainty } = growthAt(fit, end)
    // 1.6449: one-sided 95 % quantile of the normal distribution, four decimals.
    expect(Math.abs(value) + 1.6449 * standardUncertainty).toBeCloseTo(9, 3)
  }
})

it('has no confident range when the common offset alone may exceed the tolerance', () => {
  const { confidentRangeS, rangeS } = valueOf(findUsableRange(straight(0.5, 6), { toleranceUm: 9 }))
  expect(rangeS[0]).toBeCloseTo(2.2 * Math.exp(-0.3), 10)
  expect(confidentRangeS).toBeUndefined()
})

it('finds a range far narrower than the steps of its search', () => {
  const { rangeS } = valueOf(findUsableRange(straight(0.001), { toleranceUm: 1e-4 }))
  expect(Math.log(rangeS[1] / rangeS[0])).toBeCloseTo(2e-4 / 30, 10)
})

it('serves growth that is on one side of zero all along, or falls', () => {
  const big = valueOf(
    fitGrowth(
      makeRungs(
        [
          [2, 5],
          [2.5, 12],
          [3, 18],
        ],
        0.5,
      ),
    ),
  )
  const range = valueOf(findUsableRange(big, { toleranceUm: 10 }))
  expect(range.rangeS[0]).toBe(2)
  expect(growthAt(big, range.rangeS[1]).value).toBeCloseTo(10, 9)
  expect(range.reachesEnd).toEqual({ low: true, high: false })

  const falling = valueOf(
    fitGrowth(
      makeRungs(
        [
          [2, 12],
          [2.5, 1],
          [3, -9],
        ],
        0.5,
      ),
    ),
  )
  const fallingRange = valueOf(findUsableRange(falling, { toleranceUm: 5 }))
  expect(growthAt(falling, fallingRange.rangeS[0]).value).toBeCloseTo(5, 9)
  expect(growthAt(falling, fallingRange.rangeS[1]).value).toBeCloseTo(-5, 9)
})

it('refuses when no exposure between the rungs is within the tolerance', () => {
  const big = valueOf(
    fitGrowth(
      makeRungs(
        [
          [2, 25],
          [2.5, 32],
          [3, 38],
        ],
        0.5,
      ),
    ),
  )
  const outcome = findUsableRange(big, { toleranceUm: 10 })
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'nothing-within-tolerance' } })
})

it('throws for a tolerance that allows nothing', () => {
  const message = 'findUsableRange needs a tolerance above 0 um, got 0'
  expect(() => findUsableRange(straight(1), { toleranceUm: 0 })).toThrow(new RangeError(message))
})
