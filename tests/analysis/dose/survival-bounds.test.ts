import { describe, expect, it } from 'vitest'
import { findSurvivalBounds, fitSurvivals } from '../../../analysis/dose/survival-bounds.js'
import { survivalChance } from '../../../analysis/dose/survival-model.js'
import type { SurvivalRung } from '../../../analysis/dose/survival-range.js'
import { suggestExposure } from '../../../analysis/dose/suggestion.js'
import { makeRungs } from '../../support/ladders.js'
import { valueOf } from '../../support/outcomes.js'

const EXPOSURES = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const SIZES = [102, 136, 204, 306, 408, 612, 816]

/** Sharp thresholds: lines stand above 204 um at 2.8 s, less at more; spaces the other way. */
const rungs = EXPOSURES.map((exposureS): SurvivalRung => {
  const dose = Math.log(exposureS / 2.8)
  const isolated = (['line', 'space'] as const).flatMap((kind) =>
    SIZES.map((nominalUm) => ({
      kind,
      nominalUm,
      survives: Math.log(nominalUm / 204) + (kind === 'line' ? dose : -dose) > 0,
    })),
  )
  const narrowest = (wanted: string) => isolated.find(({ kind, survives }) => kind === wanted && survives)?.nominalUm
  return { exposureS, smallestLineUm: narrowest('line'), smallestSpaceUm: narrowest('space'), isolated }
})
const models = fitSurvivals(rungs)
const bounds = (wanted: Parameters<typeof findSurvivalBounds>[2]) => findSurvivalBounds(rungs, models, wanted)

it('bounds the exposure where the wanted size survives with 95 % chance', () => {
  const [line] = valueOf(bounds({ wantedLineUm: 306 }))
  expect(line).toMatchObject({ kind: 'line', basis: 'model' })
  expect(survivalChance(valueOf(models.line), 306, line!.exposureS)).toBeCloseTo(0.95, 9)
  expect(line!.inWords).toMatch(/^0\.306 mm walls, which stand with 95 % chance only from \d\.\d+ s up$/)
  const [space] = valueOf(bounds({ wantedSpaceUm: 408 }))
  expect(survivalChance(valueOf(models.space), 408, space!.exposureS)).toBeCloseTo(0.95, 9)
  expect(space!.inWords).toMatch(/^0\.408 mm gaps, which stay open with 95 % chance only up to \d\.\d+ s$/)
})

it('does not bound for a size that survives all along, and takes a wider one for the widest printed', () => {
  expect(valueOf(bounds({ wantedLineUm: 816 }))).toEqual([])
  expect(valueOf(bounds({ wantedLineUm: 5000 }))).toEqual([])
})

it('falls back on what was seen where 95 % is not reached between the rungs', () => {
  const [line] = valueOf(bounds({ wantedLineUm: 136 }))
  expect(line).toMatchObject({
    basis: 'seen',
    exposureS: 4.9,
    inWords: '0.136 mm walls, which stand only from 4.9 s up',
  })
})

it('refuses to judge what is narrower than all that was printed', () => {
  expect(bounds({ wantedSpaceUm: 80 })).toMatchObject({ ok: false, refusal: { code: 'wanted-size-not-printed' } })
})

it('refuses a line and a space that exclude each other', () => {
  expect(bounds({ wantedLineUm: 204, wantedSpaceUm: 204 })).toMatchObject({
    ok: false,
    refusal: { code: 'wanted-features-exclude-each-other' },
  })
})

describe('a suggestion on these rungs', () => {
  const growth = makeRungs(EXPOSURES.map((e) => [e, 30 * Math.log(e / 2.2)]))
  const outcome = suggestExposure(
    rungs.map((rung, i) => ({ ...rung, growthUm: growth[i]!.growthUm })),
    { wantedLineUm: 306 },
  )
  if (!outcome.ok) throw new Error(outcome.refusal.code)
  const { exposureS, limits, safeSizeUm, halfStep } = outcome.value

  it('moves to where the walls survive, rounds upwards, and names them', () => {
    const bound = valueOf(bounds({ wantedLineUm: 306 }))[0]!
    expect(exposureS).toBeGreaterThanOrEqual(bound.exposureS)
    expect(exposureS).toBeLessThan(bound.exposureS + 0.1)
    expect(limits).toEqual([{ by: 'walls', inWords: bound.inWords }])
  })

  it('says which widths are safe there, and what half a step either way does', () => {
    expect(survivalChance(valueOf(models.line), valueOf(safeSizeUm.line).value, exposureS)).toBeCloseTo(0.95, 9)
    const [lower, higher] = [halfStep.lower!, halfStep.higher!]
    expect([lower.exposureS, higher.exposureS]).toEqual([exposureS - 0.05, exposureS + 0.05])
    // 30 um per unit of ln(exposure), of which half a step either way is 0.1 / exposure.
    expect(higher.growthUm.value - lower.growthUm.value).toBeCloseTo(
      30 * Math.log((exposureS + 0.05) / (exposureS - 0.05)),
      6,
    )
    expect(higher.safeLineUm!).toBeLessThan(lower.safeLineUm!)
    expect(higher.safeSpaceUm!).toBeGreaterThan(lower.safeSpaceUm!)
  })
})

it('leaves out the half step that lies beyond the rungs', () => {
  const outcome = suggestExposure(makeRungs(EXPOSURES.map((e) => [e, 30 * Math.log(e / 1.61)])))
  if (!outcome.ok) throw new Error(outcome.refusal.code)
  expect(outcome.value.exposureS).toBe(1.6)
  expect(outcome.value.halfStep.lower).toBeUndefined()
  expect(outcome.value.halfStep.higher).toBeDefined()
})
