import { expect, it } from 'vitest'
import { fitExposureTrend } from '../../../analysis/dose/exposure-trend.js'
import { valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'

const EXPOSURES = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const ladder = (truth: (exposureS: number) => number, u: number, seed = 1) => {
  const draw = normalDraws(seed)
  return EXPOSURES.map((exposureS) => ({
    exposureS,
    measured: { value: truth(exposureS) + u * draw(), standardUncertainty: u },
  }))
}
const bowl = (exposureS: number) => 0.04 + 0.08 * Math.log(exposureS / 2.7) ** 2

it('finds a rise and claims no optimum on a straight trend', () => {
  const { verdict, least, change } = valueOf(
    fitExposureTrend(ladder((exposureS) => 0.03 + 0.05 * Math.log(exposureS), 0.004)),
  )
  expect(verdict).toBe('rises')
  expect(least).toBeUndefined()
  expect(Math.abs(change.value - 0.05 * Math.log(4.9 / 1.6))).toBeLessThan(3 * change.standardUncertainty)
})

it('claims the optimum that precise data show, with its interval, and none that coarse data do not', () => {
  const { verdict, model, least, at } = valueOf(fitExposureTrend(ladder(bowl, 0.001)))
  expect([verdict, model]).toEqual(['bends', 'quadratic'])
  expect(least!.intervalS[0]).toBeLessThan(2.7)
  expect(least!.intervalS[1]).toBeGreaterThan(2.7)
  expect(Math.abs(at(2.7).value - 0.04)).toBeLessThan(0.003)
  expect(valueOf(fitExposureTrend(ladder(bowl, 0.03)))).toMatchObject({ verdict: 'no-trend' })
})

it('claims no optimum at the greatest haze', () => {
  const { verdict, least } = valueOf(fitExposureTrend(ladder((exposureS) => 0.2 - bowl(exposureS), 0.001)))
  expect(verdict).toBe('bends')
  expect(least).toBeUndefined()
})

it('shows a trend in noise alone in about 5 % of ladders, an optimum in fewer', () => {
  const trends = Array.from({ length: 1000 }, (_, i) => valueOf(fitExposureTrend(ladder(() => 0.05, 0.01, i))))
  // Binomial standard deviation 0.7 %; the choice between two models adds a little, the larger of two noises takes some.
  expect(trends.filter(({ verdict }) => verdict !== 'no-trend').length / 1000).toBeLessThan(0.08)
  expect(trends.filter(({ least }) => least).length / 1000).toBeLessThan(0.025)
})

it('refuses two exposures', () => {
  expect(fitExposureTrend(ladder(bowl, 0.001).slice(0, 2))).toMatchObject({ refusal: { code: 'too-few-rungs' } })
})
