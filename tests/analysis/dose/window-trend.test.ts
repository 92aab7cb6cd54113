import { expect, it } from 'vitest'
import { fitWindowTrend, type WindowResponse } from '../../../analysis/dose/window-trend.js'
import type { Estimate } from '../../../analysis/statistics/estimate.js'
import { coverageFactor } from '../../../analysis/statistics/quantiles.js'
import { valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'

const EXPOSURES = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const TRUTH = (exposureS: number) => 0.06 + 0.02 * Math.log(exposureS / 2.8)
const U = 0.01

/** A ladder whose windows have a share of their variance in common. */
function ladder(of: WindowResponse, inCommon: number, draw: () => number) {
  const common = Math.sqrt(inCommon) * U * draw()
  return EXPOSURES.map((exposureS) => {
    const value = TRUTH(exposureS) + common + Math.sqrt(1 - inCommon) * U * draw()
    return { exposureS, [of]: { value, standardUncertainty: U } }
  })
}

it.each([
  ['haze', 0.45],
  ['yellownessPerMm', 0.85],
] as const)('holds level and change of %s in 95 % of ladders whose windows err together', (of, inCommon) => {
  const draw = normalDraws(5)
  const inside = { level: 0, change: 0 }
  const holds = ({ value, standardUncertainty, degreesOfFreedom }: Estimate, truth: number) =>
    Math.abs(value - truth) < coverageFactor(degreesOfFreedom) * standardUncertainty
  const ladders = 2000
  for (let i = 0; i < ladders; i++) {
    const { at, change } = valueOf(fitWindowTrend(ladder(of, inCommon, draw), of))
    if (holds(at(2.8), TRUTH(2.8))) inside.level++
    if (holds(change, TRUTH(4.9) - TRUTH(1.6))) inside.change++
  }
  // Binomial standard deviation 0.5 %. Wider where the rungs scatter more than stated, or may hide a bend.
  for (const share of [inside.level / ladders, inside.change / ladders]) {
    expect(share).toBeGreaterThan(0.94)
    expect(share).toBeLessThan(0.985)
  }
})

it('refuses two exposures', () => {
  const two = ladder('haze', 0, normalDraws(1)).slice(0, 2)
  expect(fitWindowTrend(two, 'haze')).toMatchObject({ refusal: { code: 'too-few-rungs' } })
})
