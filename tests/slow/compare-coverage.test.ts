import { expect, it } from 'vitest'
import { compareGroups } from '../../analysis/compare/compare-groups.js'
import { controlChart } from '../../analysis/compare/control-chart.js'
import type { Observation } from '../../analysis/compare/observation.js'
import { simultaneousFactor } from '../../analysis/statistics/simultaneous.js'
import { valueOf } from '../support/outcomes.js'
import { normalDraws } from '../support/random.js'

interface Design {
  readonly groups: number
  readonly photos: number
  readonly coupons: number
  /** Standard deviation from photograph to photograph, coupon to coupon. */
  readonly photoSd: number
  readonly couponSd: readonly number[]
}
const RUNS = 400

/** Share of seeded comparisons in which all intervals hold the truth, which is no difference at all. */
function coverage({ groups, photos, coupons, photoSd, couponSd }: Design): number {
  const draw = normalDraws(17)
  let covered = 0
  for (let run = 0; run < RUNS; run++) {
    const observations: Observation[] = []
    for (let g = 0; g < groups; g++) {
      for (let p = 0; p < photos; p++) {
        const shift = photoSd * draw()
        for (let c = 0; c < coupons; c++) {
          observations.push({
            group: `g${g}`,
            value: 0.05 + shift + couponSd[g]! * draw(),
            standardUncertainty: Math.hypot(photoSd, 0.001),
            photo: `${g} ${p}`,
            photoUncertainty: 0,
            coupon: `${g} ${p} ${c}`,
            exposureS: 2,
          })
        }
      }
    }
    const { differences } = valueOf(compareGroups(observations))
    const holds = differences.every(({ difference: { value, standardUncertainty, degreesOfFreedom } }) => {
      return Math.abs(value) <= simultaneousFactor({ groups, degreesOfFreedom }) * standardUncertainty
    })
    if (holds) covered++
  }
  return covered / RUNS
}

// Run with STEPGLASS_SLOW=1. 400 comparisons: binomial standard deviation 1.1 %. Measured: 94.5, 94.8 and 95.3 % of the first
// three, of 150 each 95.3 and 93.3 % of the last two.
it.runIf(process.env['STEPGLASS_SLOW']).each<[string, Design]>([
  ['Welch, two groups of unlike scatter', { groups: 2, photos: 5, coupons: 1, photoSd: 0, couponSd: [0.002, 0.008] }],
  ['Games-Howell', { groups: 4, photos: 5, coupons: 1, photoSd: 0, couponSd: [0.004, 0.004, 0.004, 0.008] }],
  ['mixed model', { groups: 2, photos: 4, coupons: 3, photoSd: 0.006, couponSd: [0.004, 0.004] }],
  ['mixed model, three groups', { groups: 3, photos: 3, coupons: 3, photoSd: 0.006, couponSd: [0.004, 0.004, 0.004] }],
  ['one photograph each', { groups: 2, photos: 1, coupons: 4, photoSd: 0.006, couponSd: [0.004, 0.004] }],
])('holds no difference within its intervals: %s', (_what, design) => {
  const share = coverage(design)
  expect(share).toBeGreaterThan(0.92)
  expect(share).toBeLessThan(0.995)
})

// Measured over 10 points after a baseline of 10: 15 % by single points, 13 % by averages; 2.7 % with limits known for sure.
it.runIf(process.env['STEPGLASS_SLOW'])('says how often a steady bottle leaves its limits', () => {
  const draw = normalDraws(23)
  let [single, average] = [0, 0]
  for (let run = 0; run < 2000; run++) {
    const chart = valueOf(controlChart(Array.from({ length: 20 }, draw)))
    if (chart.individual.out.some((i) => i >= 10)) single++
    if (chart.ewma.out.some((i) => i >= 10)) average++
  }
  expect(single / 2000).toBeLessThan(0.2)
  expect(average / 2000).toBeLessThan(0.2)
})
