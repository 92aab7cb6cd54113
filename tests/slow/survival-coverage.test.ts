import { expect, it } from 'vitest'
import { fitSurvival, sizeForSurvival } from '../../analysis/dose/survival-model.js'
import { valueOf } from '../support/outcomes.js'
import { uniformDraws } from '../support/random.js'

const SIZES = [102, 136, 204, 306, 408, 612, 816]
const LADDERS = 1000

/** Share of seeded ladders whose 95 % interval of the width at 2.8 s holds the truth, among those with an answer. */
function coverage(steepness: number, exposures: readonly number[], chance: number): number {
  const draw = uniformDraws(41)
  const truth = 204 * Math.exp(Math.log(chance / (1 - chance)) / steepness)
  let [covered, answered] = [0, 0]
  for (let ladder = 0; ladder < LADDERS; ladder++) {
    const observed = exposures.flatMap((exposureS) =>
      SIZES.map((nominalUm) => {
        const logit = steepness * (Math.log(nominalUm / 204) + Math.log(exposureS / 2.8))
        return { exposureS, nominalUm, survives: draw() < 1 / (1 + Math.exp(-logit)) }
      }),
    )
    const point = sizeForSurvival(valueOf(fitSurvival('line', observed)), { exposureS: 2.8, chance })
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
  const share = coverage(steepness, exposures, chance)
  expect(share).toBeGreaterThan(0.93)
  expect(share).toBeLessThan(0.98)
})
