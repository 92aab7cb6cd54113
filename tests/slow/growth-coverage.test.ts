import { describe, expect, it } from 'vitest'
import type { GrowthRung } from '../../analysis/dose/coupon-readings.js'
import { tailAbove } from '../../analysis/dose/exposure-set.js'
import { fitGrowth } from '../../analysis/dose/growth-fit.js'
import { SHAPES } from '../../analysis/dose/growth-shape.js'
import { findOutlyingRungs } from '../../analysis/dose/outlying-rungs.js'
import { lastInside } from '../../analysis/statistics/sign-intervals.js'
import { valueOf } from '../support/outcomes.js'
import { normalDraws } from '../support/random.js'

const TRUE_DOSE = 2.4
const SLOPE_UM = 35
/** Growth at exposures over dose-to-size, 35 um per ln(exposure) there. */
const truths = {
  straight: (v: number) => SLOPE_UM * v,
  quadratic: (v: number) => SLOPE_UM * (v - 0.25 * v ** 2),
  threshold: (v: number) => SHAPES.threshold.growthUm([SLOPE_UM / Math.sqrt(Math.PI / 2), 0], v),
} as const
type Truth = keyof typeof truths

interface Scenario {
  readonly truth: Truth
  readonly rungs: number
  /** Exposure of a rung over that of the one before. */
  readonly ratio?: number
  /** Of an offset shared by the ladder, um; the fit is told so. */
  readonly common?: number
  /** Spread between coupons beyond the stated 1 um, um; the fit is not told. */
  readonly spread?: number
  /** Coupons at each exposure. */
  readonly repeats?: number
}

const LADDERS = 1500
const LADDERS_FOR_ALARMS = 100

function simulate({ truth, rungs: count, ratio = 1.2, common = 0, spread = 0, repeats = 1 }: Scenario) {
  const draw = normalDraws(7 + count * 100 + common * 10)
  const growth = truths[truth]
  const middle = (count - 1) / 2
  const toleranceUm = SLOPE_UM * Math.log(ratio) * middle * 0.5
  const targets = [0, -toleranceUm, toleranceUm].map((growthUm) => ({
    growthUm,
    logRatio: lastInside((v) => growth(v) - growthUm, -0.69, 1.5),
  }))
  const held = targets.map(() => 0)
  let alarms = 0
  for (let ladder = 0; ladder < LADDERS; ladder++) {
    const offset = common * draw()
    const rungs = Array.from({ length: count * repeats }, (_, i): GrowthRung => {
      const exposureS = TRUE_DOSE * ratio ** ((i % count) - middle + 0.2)
      const value = growth(Math.log(exposureS / TRUE_DOSE)) + offset + Math.hypot(1, spread) * draw()
      return { exposureS, growthUm: { value, standardUncertainty: 1 } }
    })
    const fit = valueOf(fitGrowth(rungs, { commonUncertaintyUm: common }))
    // An interval holds an exposure when its tail there lies between 2.5 and 97.5 %: see `findExposureInterval`.
    for (const [i, { growthUm, logRatio }] of targets.entries()) {
      const tail = tailAbove(fit, { growthUm }, logRatio + Math.log(TRUE_DOSE / fit.referenceS))
      if (Math.abs(tail - 0.5) <= 0.475) held[i]!++
    }
    if (ladder < LADDERS_FOR_ALARMS && findOutlyingRungs(fit).length > 0) alarms++
  }
  return { shares: held.map((count) => (100 * count) / LADDERS), alarms }
}

const name = ({ truth, rungs, repeats = 1, common = 0, spread = 0 }: Scenario) =>
  `${truth} truth, ${rungs} exposures x ${repeats}, common offset ${common} um, spread ${spread} um`

function expectCovered(said: string, scenario: Scenario, most: number): void {
  const { shares, alarms } = simulate(scenario)
  console.log(`${said}: ${shares.map((share) => share.toFixed(1)).join(', ')} %; alarms ${alarms} %`)
  // Binomial standard deviation 0.56 %.
  for (const share of shares) {
    expect(share).toBeGreaterThan(93)
    expect(share).toBeLessThan(most)
  }
  // Meant to be 5 of 100; a count of 100 has a standard deviation of 2.2.
  expect(alarms).toBeLessThan(13)
}

const shapes = ['straight', 'quadratic', 'threshold'] as const
const named = (scenarios: readonly Scenario[]) => scenarios.map((scenario) => [name(scenario), scenario] as const)
// Minutes: STEPGLASS_SLOW=1 npx vitest run tests/slow
const slowly = it.runIf(process.env['STEPGLASS_SLOW'])

describe('95 % intervals of dose-to-size and of both ends of the latitude cover the truth in 93 to 97 %', () => {
  // As every photograph has them: an offset shared by its coupons, three times their own uncertainty as it comes or no more
  // than it with calipers on the tabs, or more scatter than stated. Measured:
  // 93.7 to 96.5 %.
  slowly.each(
    named([
      ...shapes.map((truth) => ({ truth, rungs: 6, common: 3 })),
      ...[5, 8].map((rungs) => ({ truth: 'straight' as const, rungs, common: 1 })),
      ...(['quadratic', 'threshold'] as const).map((truth) => ({ truth, rungs: 6, common: 1 })),
      { truth: 'threshold', rungs: 4, repeats: 2, spread: 1 },
      ...[5, 6, 8].map((rungs) => ({ truth: 'straight' as const, rungs, spread: 1 })),
      { truth: 'quadratic', rungs: 6, spread: 1 },
    ]),
  )('%s', { timeout: 300_000 }, (said, scenario) => expectCovered(said, scenario, 97))
})

describe('and in up to 99 % where no offset is shared and the stated uncertainties are right', () => {
  // A case that no photograph has, kept to show which way the parts err. Too careful, measured 95.5 to 98.5 %: scatter that is larger by chance widens, smaller scatter never narrows (97 % by
  // itself, see `scaleOfNoise`), and the average over models allows for a bend that is not there.
  slowly.each(named(shapes.flatMap((truth) => [5, 6, 8].map((rungs) => ({ truth, rungs })))))(
    '%s',
    { timeout: 300_000 },
    (said, scenario) => expectCovered(said, scenario, 99),
  )
})
