import { describe, expect, it } from 'vitest'
import { fitExposureTrend } from '../../analysis/dose/exposure-trend.js'
import { fitLayerLadders } from '../../analysis/dose/layer-ladders.js'
import { fitPrintThrough } from '../../analysis/dose/print-through.js'
import { fitWorkingCurve } from '../../analysis/dose/working-curve.js'
import { coverageFactor } from '../../analysis/statistics/quantiles.js'
import type { Estimate } from '../../analysis/statistics/estimate.js'
import { valueOf } from '../support/outcomes.js'
import { normalDraws } from '../support/random.js'

// Run with STEPGLASS_SLOW=1. 4000 repeats: binomial standard deviation 0.35 %.
const REPEATS = 4000
const slowly = it.runIf(process.env['STEPGLASS_SLOW'])

const within = (truth: number, [low, high]: readonly [number, number]) => low <= truth && truth <= high
const interval95 = ({ value, standardUncertainty, degreesOfFreedom }: Estimate): [number, number] => {
  const half = coverageFactor(degreesOfFreedom) * standardUncertainty
  return [value - half, value + half]
}
/** Percent of the repeats that hold; those without an answer do not count. */
function percent(holds: () => boolean | undefined): number {
  const told = Array.from({ length: REPEATS }, holds).filter((one) => one !== undefined)
  expect(told.length).toBeGreaterThan(0.9 * REPEATS)
  return (100 * told.filter((one) => one).length) / told.length
}
function expectBetween(share: number, low: number, high: number): void {
  console.log(`${expect.getState().currentTestName}: ${share.toFixed(1)} %`)
  expect(share).toBeGreaterThan(low)
  expect(share).toBeLessThan(high)
}

const exposures = (count: number) => Array.from({ length: count }, (_, i) => 2.4 * 1.2 ** (i - (count - 1) / 2))

// Measured: 94.2 to 95.5 %. Where stated uncertainties are right they are still widened whenever the rungs happen to scatter
// more (see `scaleOfNoise`): 97.0 to 97.2 %.
describe('95 % intervals cover the truth in 93 to 97 %', () => {
  slowly.each([
    [5, 1],
    [6, 1],
    [8, 1],
    [5, 1.5],
    [6, 1.5],
    [8, 1.5],
  ])('penetration depth from print-through of %d rungs that scatter %d times as stated', (count, times) => {
    const draw = normalDraws(count)
    const share = percent(() => {
      const fit = fitPrintThrough(
        exposures(count).map((exposureS) => ({
          exposureS,
          printThroughUm: {
            value: 300 + 240 * Math.log(exposureS) + 6 * times * draw(),
            standardUncertainty: 6,
          },
        })),
      )
      return fit.ok ? within(240, interval95(fit.value)) : undefined
    })
    expectBetween(share, 93, 97.5)
  })

  slowly.each([
    ['bond', 250],
    ['accumulated', 120],
    ['accumulated', 250],
  ] as const)('penetration depth and exposure from ladders at two layer heights: %s rule, %d um', (rule, depthUm) => {
    const draw = normalDraws(depthUm)
    const right = (h: number) => (rule === 'bond' ? Math.exp(h / depthUm) : 1 - Math.exp(-h / depthUm))
    let inDepth = 0
    const ofExposure = percent(() => {
      const ladders = [50, 100].map((layerUm) => ({
        layerUm,
        exposureS: 4 * right(layerUm) * Math.exp(0.03 * draw()),
        relativeUncertainty: 0.03,
      }))
      const fit = fitLayerLadders(ladders, 75)
      if (!fit.ok) return undefined
      const [low, high] = fit.value[rule].depthIntervalUm
      if (within(depthUm, [low, high ?? Infinity])) inDepth++
      return within(4 * right(75), fit.value[rule].intervalS)
    })
    expectBetween(ofExposure, 93, 97)
    expectBetween((100 * inDepth) / REPEATS, 93, 97)
  })

  slowly.each([5, 6, 8])('Dp and Ec of a working curve of %d doses', (count) => {
    const draw = normalDraws(count)
    let inDepth = 0
    const ofCritical = percent(() => {
      const fit = fitWorkingCurve(
        Array.from({ length: count }, (_, i) => {
          const doseMjPerCm2 = 12 * 1.5 ** i
          return { doseMjPerCm2, depthUm: 180 * Math.log(doseMjPerCm2 / 6) + 12 * draw() }
        }),
      )
      if (!fit.ok) return undefined
      if (within(180, fit.value.penetrationDepthIntervalUm)) inDepth++
      return within(6, fit.value.criticalDoseIntervalMjPerCm2)
    })
    expectBetween(ofCritical, 93, 97)
    expectBetween((100 * inDepth) / REPEATS, 93, 97)
  })
})

// Measured: the change 96.8 to 97.3 %. In the middle 97.8 to 98.1 % of straight truths, which is too careful, so that it is
// still 95.4 % where the truth bends as much as six rungs just fail to show (88.5 % by the straight line alone).
describe('95 % intervals of the haze trend cover the truth in 93 to 97 %, in the middle of a straight one up to 98.5 %', () => {
  slowly.each([
    ['a straight truth', 5, 0.05, 0, 98.5],
    ['a straight truth', 6, 0.05, 0, 98.5],
    ['a straight truth', 8, 0.05, 0, 98.5],
    ['a plain bend', 6, 0, 0.3, 97.5],
    ['a bend at the edge of what shows', 6, 0.05, 0.08, 97.5],
  ] as const)('%s of %d rungs', (_what, count, slope, bend, mostInMiddle) => {
    const draw = normalDraws(count)
    const truth = (exposureS: number) => {
      const v = Math.log(exposureS / 2.4)
      return 0.06 + slope * v + bend * v ** 2
    }
    const rungs = exposures(count)
    let inMiddle = 0
    const ofChange = percent(() => {
      const { change, at } = valueOf(
        fitExposureTrend(
          rungs.map((exposureS) => ({
            exposureS,
            measured: { value: truth(exposureS) + 0.005 * draw(), standardUncertainty: 0.005 },
          })),
        ),
      )
      if (within(truth(2.4), interval95(at(2.4)))) inMiddle++
      return within(truth(rungs.at(-1)!) - truth(rungs[0]!), interval95(change))
    })
    expectBetween(ofChange, 93, 97.5)
    expectBetween((100 * inMiddle) / REPEATS, 93, mostInMiddle)
  })
})
