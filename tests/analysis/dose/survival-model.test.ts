import { describe, expect, it } from 'vitest'
import {
  exposureForSurvival,
  fitSurvival,
  sizeForSurvival,
  survivalChance,
  type SurvivalObservation,
  type SurvivalPoint,
} from '../../../analysis/dose/survival-model.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

type Point = [value: number, low: number, high: number]
interface Expected {
  readonly survives: number[]
  readonly 'size50At2.8S': Point
  readonly 'size95At2.8S': Point
  readonly exposure50At204Um?: Point
}
const byR = readReference<{ nominalUm: number[]; exposureS: number[]; separated: Expected; mixed: Expected }>(
  'survival-logistic',
)
const observed = ({ survives }: Expected): SurvivalObservation[] =>
  survives.map((one, i) => ({ nominalUm: byR.nominalUm[i]!, exposureS: byR.exposureS[i]!, survives: one === 1 }))
const separated = valueOf(fitSurvival('line', observed(byR.separated)))
const mixed = valueOf(fitSurvival('line', observed(byR.mixed)))

describe('against R: the penalised likelihood profiled by optim and uniroot', () => {
  const agrees = ({ value, interval }: SurvivalPoint, expected: Point) =>
    // optim leaves seven digits of the likelihood's place.
    [value, ...interval].forEach((got, i) => expect(relativeError(got, expected[i]!)).toBeLessThan(1e-6))

  it('finds the exposure that saves half of the lines, on separated outcomes', () => {
    agrees(valueOf(exposureForSurvival(separated, { nominalUm: 204, chance: 0.5 })), byR.separated.exposure50At204Um!)
  })

  it.each([0.5, 0.95] as const)('finds the width that survives with chance %d, on separated outcomes', (chance) => {
    const expected = byR.separated[chance === 0.5 ? 'size50At2.8S' : 'size95At2.8S']
    agrees(valueOf(sizeForSurvival(separated, { exposureS: 2.8, chance })), expected)
  })

  it('finds the width that half survive at, on mixed outcomes', () => {
    agrees(valueOf(sizeForSurvival(mixed, { exposureS: 2.8, chance: 0.5 })), byR.mixed['size50At2.8S'])
  })

  it('cuts at the widest line printed an interval that goes on beyond it, and says so', () => {
    const point = valueOf(sizeForSurvival(mixed, { exposureS: 2.8, chance: 0.95 }))
    const [value, low, high] = byR.mixed['size95At2.8S']
    expect(relativeError(point.value, value)).toBeLessThan(1e-6)
    expect(relativeError(point.interval[0], low)).toBeLessThan(1e-6)
    expect(high).toBeGreaterThan(816)
    expect(point.interval[1]).toBe(816)
    expect(point.reachesEnd).toEqual({ low: false, high: true })
  })
})

it('gives the stated chance at the exposure it names, and 95 % needs more exposure than 50 %', () => {
  const half = valueOf(exposureForSurvival(separated, { nominalUm: 306, chance: 0.5 }))
  const most = valueOf(exposureForSurvival(separated, { nominalUm: 306, chance: 0.95 }))
  expect(survivalChance(separated, 306, half.value)).toBeCloseTo(0.5, 10)
  expect(survivalChance(separated, 306, most.value)).toBeCloseTo(0.95, 10)
  expect(most.value).toBeGreaterThan(half.value)
})

it('treats a space as a line whose exposure runs the other way', () => {
  const mirrored = observed(byR.separated).map((one) => ({ ...one, exposureS: 10 / one.exposureS }))
  const spaces = valueOf(fitSurvival('space', mirrored))
  const line = valueOf(exposureForSurvival(separated, { nominalUm: 204, chance: 0.5 }))
  const space = valueOf(exposureForSurvival(spaces, { nominalUm: 204, chance: 0.5 }))
  expect(space.value).toBeCloseTo(10 / line.value, 6)
  expect(space.interval[0]).toBeCloseTo(10 / line.interval[1], 5)
  expect(space.interval[1]).toBeCloseTo(10 / line.interval[0], 5)
})

it('does not reach beyond what was printed', () => {
  expect(exposureForSurvival(separated, { nominalUm: 816, chance: 0.5 })).toMatchObject({
    refusal: { code: 'survives-throughout' },
  })
  expect(exposureForSurvival(separated, { nominalUm: 102, chance: 0.95 })).toMatchObject({
    refusal: { code: 'survives-nowhere' },
  })
})

const grid = (survives: (um: number, s: number) => boolean) =>
  [100, 200, 400].flatMap((nominalUm) =>
    [2, 3, 4].map((exposureS) => ({ nominalUm, exposureS, survives: survives(nominalUm, exposureS) })),
  )

it.each([
  ['all-survive', grid(() => true)],
  ['none-survives', grid(() => false)],
  ['too-few-sizes-or-rungs', grid((um) => um > 150).filter(({ exposureS }) => exposureS === 2)],
  ['too-few-sizes-or-rungs', grid((_, s) => s > 2).filter(({ nominalUm }) => nominalUm === 200)],
  ['larger-fails-sooner', grid((um) => um < 300)],
])('refuses as %s', (code, observations) => {
  expect(fitSurvival('line', observations)).toMatchObject({ ok: false, refusal: { code } })
})

it('names no exposure when lines fall with more of it', () => {
  const model = valueOf(
    fitSurvival(
      'line',
      grid((um, s) => um / s > 70),
    ),
  )
  expect(exposureForSurvival(model, { nominalUm: 200, chance: 0.5 })).toMatchObject({
    refusal: { code: 'no-trend-with-exposure' },
  })
})

it('throws for an exposure that is none', () => {
  expect(() => fitSurvival('line', [{ exposureS: 0, nominalUm: 100, survives: true }])).toThrow(RangeError)
})
