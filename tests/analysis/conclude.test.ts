import { expect, it } from 'vitest'
import { conclude } from '../../analysis/conclude.js'
import type { MeasureOptions, ReadRung } from '../../analysis/result.js'
import { answered } from '../support/reading-fixture.js'

const options: MeasureOptions = { toleranceUm: 20, timeStepS: 0.1, keepProfiles: false }
const rungs = answered.rungs.filter((rung): rung is ReadRung => 'growthUm' in rung)
/** The made-up rungs, with a wall of 100 um that falls on all but the two highest. */
const withLostWalls = rungs.map((rung, i) => ({
  ...rung,
  smallestLineUm: i < rungs.length - 2 ? 150 : 100,
  isolated: rung.isolated.map((one) =>
    one.kind === 'line' ? { ...one, survives: one.nominalUm > 120 || i >= rungs.length - 2 } : one,
  ),
}))

it('moves the suggestion for the walls and gaps that the options ask for', () => {
  const free = conclude(answered.design, withLostWalls, options).suggestion!
  const bound = conclude(answered.design, withLostWalls, { ...options, smallestLineUm: 110 }).suggestion!
  expect(bound.exposureS).toBeGreaterThan(free.exposureS)
  expect(bound.limits![0]!.by).toBe('walls')
  expect(bound.limitedBy).toContain('0.11 mm walls')
})

it('describes survival only for the kinds that show both', () => {
  const survival = conclude(answered.design, withLostWalls, options).survival!
  const [line] = survival
  expect(line!.kind).toBe('line')
  expect(line!.sizes.map(({ nominalUm }) => nominalUm)).toEqual(
    rungs[0]!.isolated.filter(({ kind }) => kind === 'line').map(({ nominalUm }) => nominalUm),
  )
  const allStand = rungs.map((rung) => ({
    ...rung,
    isolated: rung.isolated.map((one) => ({ ...one, survives: true })),
  }))
  expect(conclude(answered.design, allStand, options).survival).toEqual([])
})
