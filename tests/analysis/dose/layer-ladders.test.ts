import { expect, it } from 'vitest'
import { fitLayerLadders } from '../../../analysis/dose/layer-ladders.js'
import { transferRatios } from '../../../analysis/dose/layer-transfer.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'

const DEPTH_UM = 200
const HEIGHTS = [30, 50, 100]
/** Exposures that follow one rule exactly, 2.5 s at 50 um. */
const ladders = (rule: 'bond' | 'accumulatedNear', heights = HEIGHTS, u = 0.01) =>
  heights.map((layerUm) => ({
    layerUm,
    exposureS: 2.5 * transferRatios(50, layerUm, DEPTH_UM)[rule],
    relativeUncertainty: u,
  }))

it.each([
  ['bond', 'bond'],
  ['accumulated', 'accumulatedNear'],
] as const)(
  'finds the depth of exposures that follow the %s rule, and the exposure at a third height',
  (name, rule) => {
    const fit = valueOf(fitLayerLadders(ladders(rule, [50, 100]), 30))[name]
    expect(relativeError(fit.depthUm!, DEPTH_UM)).toBeLessThan(1e-4)
    expect(relativeError(fit.exposureS, 2.5 * transferRatios(50, 30, DEPTH_UM)[rule])).toBeLessThan(1e-6)
    expect(fit.depthIntervalUm[0]).toBeLessThan(DEPTH_UM)
    expect(fit.intervalS[0]).toBeLessThan(fit.exposureS)
    expect(fit.intervalS[1]).toBeGreaterThan(fit.exposureS)
  },
)

it('bounds the bond depth as the two exposures bound their ratio', () => {
  // Closed form for two ladders: 1 / Dp = ln(t2 / t1) / (h2 - h1), whose standard uncertainty is sqrt(2) u / (h2 - h1).
  const { bond } = valueOf(fitLayerLadders(ladders('bond', [50, 100]), 30))
  const spread = (1.959964 * Math.SQRT2 * 0.01) / 50
  expect(relativeError(bond.depthIntervalUm[0], 1 / (1 / DEPTH_UM + spread))).toBeLessThan(1e-6)
  expect(relativeError(bond.depthIntervalUm[1]!, 1 / (1 / DEPTH_UM - spread))).toBeLessThan(1e-6)
  // And the exposure at 30 um follows from ln t = ln t1 - 0.4 (ln t2 - ln t1): variances 1.4^2 + 0.4^2.
  const half = 1.959964 * 0.01 * Math.hypot(1.4, 0.4)
  expect(Math.log(bond.intervalS[1] / bond.exposureS)).toBeCloseTo(half, 3)
})

it('excludes the rule that three heights contradict', () => {
  const { bond, accumulated, exposureS } = valueOf(fitLayerLadders(ladders('accumulatedNear', HEIGHTS, 0.002), 40))
  expect(accumulated.agrees).toBe(true)
  expect(bond.agrees).toBe(false)
  expect(exposureS).toBe(accumulated.exposureS)
})

it('has no upper limit for the depth when exposures go as the heights do', () => {
  const proportional = [50, 100].map((layerUm) => ({ layerUm, exposureS: layerUm / 20, relativeUncertainty: 0.01 }))
  const { accumulated } = valueOf(fitLayerLadders(proportional, 30))
  expect(accumulated.depthIntervalUm[1]).toBeNull()
  expect(relativeError(accumulated.exposureS, 1.5)).toBeLessThan(0.005)
})

it('refuses ladders at one height, and exposures that fall with height', () => {
  expect(fitLayerLadders(ladders('bond', [50, 50]), 30)).toMatchObject({ refusal: { code: 'one-layer-height' } })
  const falling = [
    { layerUm: 50, exposureS: 3, relativeUncertainty: 0.01 },
    { layerUm: 100, exposureS: 2, relativeUncertainty: 0.01 },
  ]
  expect(fitLayerLadders(falling, 30)).toMatchObject({ refusal: { code: 'no-rule-fits' } })
})

it('covers the true exposure at a third height in 95 % of seeded ladders', () => {
  const draw = normalDraws(21)
  const truth = 2.5 * transferRatios(50, 30, DEPTH_UM).accumulatedNear
  let covered = 0
  const repeats = 400
  for (let i = 0; i < repeats; i++) {
    const noisy = ladders('accumulatedNear', [50, 100], 0.02).map((one) => ({
      ...one,
      exposureS: one.exposureS * Math.exp(0.02 * draw()),
    }))
    const { intervalS } = valueOf(fitLayerLadders(noisy, 30)).accumulated
    if (intervalS[0] <= truth && truth <= intervalS[1]) covered++
  }
  // 400 ladders: standard deviation 1.1 %. The least k is bounded at 0, which makes some intervals wider than need be.
  expect(covered / repeats).toBeGreaterThan(0.92)
})

it('throws for an uncertainty of zero', () => {
  expect(() => fitLayerLadders(ladders('bond', HEIGHTS, 0), 30)).toThrow(RangeError)
})
