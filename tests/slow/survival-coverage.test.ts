import { expect, it } from 'vitest'
import {
  exposureForSurvival,
  fitSurvival,
  sizeForSurvival,
  type SurvivalModel,
  type SurvivalPoint,
} from '../../analysis/dose/survival-model.js'
import type { Outcome } from '../../analysis/outcome.js'
import { valueOf } from '../support/outcomes.js'
import { uniformDraws } from '../support/random.js'

const SIZES = [102, 136, 204, 306, 408, 612, 816]
const LADDERS = 1000

/** Share of seeded ladders whose 95 % interval holds the truth, among those with an answer. */
function coverage(
  steepness: number,
  exposures: readonly number[],
  truth: number,
  ask: (model: SurvivalModel) => Outcome<SurvivalPoint>,
): number {
  const draw = uniformDraws(41)
  let [covered, answered] = [0, 0]
  for (let ladder = 0; ladder < LADDERS; ladder++) {
    const observed = exposures.flatMap((exposureS) =>
      SIZES.map((nominalUm) => {
        const logit = steepness * (Math.log(nominalUm / 204) + Math.log(exposureS / 2.8))
        return { exposureS, nominalUm, survives: draw() < 1 / (1 + Math.exp(-logit)) }
      }),
    )
    const point = ask(valueOf(fitSurvival('line', observed)))
    if (!point.ok) continue
    const { interval, reachesEnd } = point.value
    answered++
    if ((reachesEnd.low || interval[0] <= truth) && (reachesEnd.high || truth <= interval[1])) covered++
  }
  return covered / answered
}

// Run with STEPGLASS_SLOW=1. 1000 ladders: binomial standard deviation 0.7 %. Measured: 96.1, 95.8, 97.8 and 95.1 %; the
// third is too wide, as an interval cut at the widest line counts as holding what lies beyond.
it.runIf(process.env['STEPGLASS_SLOW']).each([
  [4, [1.6, 2, 2.5, 3.1, 3.9], 0.5],
  [4, [1.6, 2, 2.5, 3.1, 3.9, 4.9], 0.5],
  [4, [1.6, 2, 2.5, 3.1, 3.9, 4.9], 0.95],
  [10, [1.6, 2, 2.5, 3.1, 3.9, 4.9], 0.95],
])('covers the width that survives: steepness %d, rungs %j, chance %d', (steepness, exposures, chance) => {
  const truth = 204 * Math.exp(Math.log(chance / (1 - chance)) / steepness)
  const share = coverage(steepness, exposures, truth, (model) => sizeForSurvival(model, { exposureS: 2.8, chance }))
  expect(share).toBeGreaterThan(0.93)
  expect(share).toBeLessThan(0.98)
})

function coverageOfExposure(count: number, steepness: number, chance: number, nominalUm: number): number {
  const exposures = Array.from({ length: count }, (_, i) => 2.8 * 1.25 ** (i - (count - 1) / 2))
  const truth = 2.8 * (204 / nominalUm) * Math.exp(Math.log(chance / (1 - chance)) / steepness)
  const share = coverage(steepness, exposures, truth, (model) => exposureForSurvival(model, { nominalUm, chance }))
  console.log(`${expect.getState().currentTestName}: ${(100 * share).toFixed(1)} %`)
  return share
}

// Measured: 97.3, 96.2, 94.8, 96.7 and 95.4 %.
it.runIf(process.env['STEPGLASS_SLOW']).each([
  [5, 4, 0.5, 204],
  [6, 4, 0.5, 204],
  [8, 4, 0.5, 204],
  [6, 10, 0.5, 204],
  [8, 10, 0.95, 204],
])('covers the exposure of survival of %d rungs, steepness %d, chance %d at %d um in 93 to 97.5 %', (...scenario) => {
  const share = coverageOfExposure(...scenario)
  expect(share).toBeGreaterThan(0.93)
  expect(share).toBeLessThan(0.975)
})

// Measured: 99.3, 98.7 and 100 %. Where few rungs lie above an exposure that 95 % survive, most intervals are cut at the
// highest rung, said so with it, and count as holding what lies beyond.
it.runIf(process.env['STEPGLASS_SLOW']).each([
  [6, 4, 0.95, 306],
  [8, 4, 0.95, 306],
  [6, 10, 0.95, 204],
])('covers it in over 98 %% near the highest of %d rungs, steepness %d, chance %d at %d um', (...scenario) => {
  expect(coverageOfExposure(...scenario)).toBeGreaterThan(0.98)
})
