import { describe, expect, it } from 'vitest'
import { evaluateGrowth, fitGrowth } from '../../../analysis/dose/growth-fit.js'
import { sharpeningLadder } from '../../../analysis/dose/sharpen-ladder.js'
import { makeRungs } from '../../support/ladders.js'
import { valueOf } from '../../support/outcomes.js'

const EXPOSURES = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const fitAbout = (sizeS: number, commonUncertaintyUm = 0, u = 1) =>
  valueOf(
    fitGrowth(
      makeRungs(
        EXPOSURES.map((e) => [e, 35 * Math.log(e / sizeS)]),
        u,
      ),
      { commonUncertaintyUm },
    ),
  )
const plan = (sizeS: number, commonUncertaintyUm = 0, rungs?: number) =>
  sharpeningLadder(fitAbout(sizeS, commonUncertaintyUm), sizeS, { timeStepS: 0.1, rungs })

describe('the ladder that makes dose-to-size surer', () => {
  it('lies within the present rungs, in whole time steps, and about dose-to-size', () => {
    const { exposuresS } = plan(2.8)
    expect(exposuresS).toHaveLength(4)
    for (const exposureS of exposuresS) {
      expect(exposureS).toBeGreaterThanOrEqual(1.6)
      expect(exposureS).toBeLessThanOrEqual(4.9)
      expect(Math.abs(exposureS * 10 - Math.round(exposureS * 10))).toBeLessThan(1e-9)
    }
    const middle = Math.exp(exposuresS.reduce((sum, e) => sum + Math.log(e), 0) / 4)
    expect(Math.abs(Math.log(middle / 2.8))).toBeLessThan(0.15)
  })

  it('moves with dose-to-size', () => {
    const middle = (exposuresS: readonly number[]) => exposuresS.reduce((sum, e) => sum + Math.log(e), 0)
    expect(middle(plan(2).exposuresS)).toBeLessThan(middle(plan(4).exposuresS))
  })

  it('shrinks the interval, the more the more rungs', () => {
    const four = plan(2.8)
    const eight = plan(2.8, 0, 8)
    expect(four.halfWidthAfterPercent).toBeLessThan(four.halfWidthNowPercent)
    expect(eight.halfWidthAfterPercent).toBeLessThan(four.halfWidthAfterPercent)
  })

  it('cannot take away more than its share of an offset that each photograph has', () => {
    // Two photographs halve the variance of such an offset: 1 / sqrt(2) of the doubt is left.
    const { halfWidthNowPercent, halfWidthAfterPercent, why } = plan(2.8, 10, 8)
    const [now, after] = [halfWidthNowPercent, halfWidthAfterPercent].map((p) => Math.log1p(p / 100)) as [
      number,
      number,
    ]
    expect(after / now).toBeGreaterThan(0.7)
    expect(after / now).toBeLessThan(0.75)
    expect(why).toContain('caliper')
  })

  it('is better than the same number of rungs spread evenly or crowded at one end', () => {
    const fit = fitAbout(2.8)
    const chosen = sharpeningLadder(fit, 2.8, { timeStepS: 0.1 })
    const combined = (exposures: readonly number[]) => {
      const all = valueOf(
        fitGrowth([
          ...makeRungs(EXPOSURES.map((e) => [e, 35 * Math.log(e / 2.8)])),
          ...makeRungs(exposures.map((e) => [e, 35 * Math.log(e / 2.8)])),
        ]),
      )
      const bent = all.candidates.find(({ model }) => model === 'quadratic')!
      return evaluateGrowth(bent, Math.log(2.8 / all.referenceS)).varianceUm2
    }
    const best = combined(chosen.exposuresS)
    expect(best).toBeLessThan(combined([1.6, 2.3, 3.4, 4.9]))
    expect(best).toBeLessThan(combined([1.6, 1.7, 1.8, 1.9]))
  })
})
