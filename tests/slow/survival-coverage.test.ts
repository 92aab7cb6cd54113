import { describe, expect, it } from 'vitest'
import {
  exposureForSurvival,
  fitSurvival,
  sizeForSurvival,
  type SurvivalModel,
  type SurvivalPoint,
} from '../../analysis/dose/survival-model.js'
import type { Outcome } from '../../analysis/outcome.js'
import { uniformDraws } from '../support/random.js'

const SIZES = [102, 136, 204, 306, 408, 612, 816]
const LADDERS = 1000

interface Scenario {
  readonly steepness: number
  readonly rungs: number
  readonly chance: number
  /** Line whose exposure is asked for; absent: the size that survives at 2.8 s is. */
  readonly nominalUm?: number
}

/** As if sizes and exposures without end had been looked at: nothing is cut, nothing refused for lying beyond. */
const uncut = (model: SurvivalModel): SurvivalModel => ({ ...model, rangeS: [0.01, 1000], rangeUm: [1, 1e5] })

/** Percent of seeded ladders whose 95 % interval holds the truth: as printed, among those with an answer, and uncut. */
function coverage({ steepness, rungs, chance, nominalUm }: Scenario) {
  const draw = uniformDraws(41)
  const exposures = Array.from({ length: rungs }, (_, i) => 2.8 * 1.25 ** (i - (rungs - 1) / 2))
  const shift = Math.exp(Math.log(chance / (1 - chance)) / steepness)
  const truth = nominalUm === undefined ? 204 * shift : 2.8 * (204 / nominalUm) * shift
  const ask = (model: SurvivalModel) =>
    nominalUm === undefined
      ? sizeForSurvival(model, { exposureS: 2.8, chance })
      : exposureForSurvival(model, { nominalUm, chance })
  const printed = { held: 0, answered: 0 }
  const whole = { held: 0, answered: 0 }
  const count = (into: typeof printed, point: Outcome<SurvivalPoint>) => {
    if (!point.ok) return
    const { interval, reachesEnd } = point.value
    into.answered++
    if ((reachesEnd.low || interval[0] <= truth) && (reachesEnd.high || truth <= interval[1])) into.held++
  }
  for (let ladder = 0; ladder < LADDERS; ladder++) {
    const observed = exposures.flatMap((exposureS) =>
      SIZES.map((nominalUm) => {
        const logit = steepness * (Math.log(nominalUm / 204) + Math.log(exposureS / 2.8))
        return { exposureS, nominalUm, survives: draw() < 1 / (1 + Math.exp(-logit)) }
      }),
    )
    const model = fitSurvival('line', observed)
    if (!model.ok) continue
    count(printed, ask(model.value))
    count(whole, ask(uncut(model.value)))
  }
  expect(whole.answered).toBeGreaterThan(0.97 * LADDERS)
  const percent = ({ held, answered }: typeof printed) => (100 * held) / answered
  const shares = { printed: percent(printed), whole: percent(whole) }
  console.log(
    `${expect.getState().currentTestName}: ${shares.printed.toFixed(1)} % printed, ${shares.whole.toFixed(1)} % uncut`,
  )
  return shares
}

// Run with STEPGLASS_SLOW=1. 1000 ladders: binomial standard deviation 0.7 %.
const slowly = it.runIf(process.env['STEPGLASS_SLOW'])

// Measured: 94.8 to 96.3 % uncut. As printed 94.8 to 97.8 %, and 98.7 to 100 % where few rungs lie above the exposure asked
// for: an interval cut at the outermost rung, said so with it, counts as holding what lies beyond, and an estimate that
// would lie beyond is refused instead of missing.
describe('the profile interval covers what survives in 93 to 97 %', () => {
  slowly.each<Scenario>([
    { steepness: 4, rungs: 5, chance: 0.5 },
    { steepness: 4, rungs: 6, chance: 0.5 },
    { steepness: 4, rungs: 6, chance: 0.95 },
    { steepness: 10, rungs: 6, chance: 0.95 },
    { steepness: 4, rungs: 5, chance: 0.5, nominalUm: 204 },
    { steepness: 4, rungs: 6, chance: 0.5, nominalUm: 204 },
    { steepness: 4, rungs: 8, chance: 0.5, nominalUm: 204 },
    { steepness: 10, rungs: 6, chance: 0.5, nominalUm: 204 },
    { steepness: 10, rungs: 8, chance: 0.95, nominalUm: 204 },
    { steepness: 4, rungs: 6, chance: 0.95, nominalUm: 306 },
    { steepness: 4, rungs: 8, chance: 0.95, nominalUm: 306 },
    { steepness: 10, rungs: 6, chance: 0.95, nominalUm: 204 },
  ])('steepness $steepness, $rungs rungs, chance $chance, line of $nominalUm um', { timeout: 300_000 }, (scenario) => {
    const { printed, whole } = coverage(scenario)
    expect(whole).toBeGreaterThan(93)
    expect(whole).toBeLessThan(97)
    expect(printed).toBeGreaterThan(93)
  })
})
