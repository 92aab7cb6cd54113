import { Value } from 'typebox/value'
import { expect, it } from 'vitest'
import { compareReadings, Comparison, type LabelledReading } from '../../../analysis/index.js'
import { valueOf } from '../../support/outcomes.js'
import { normalDraws } from '../../support/random.js'
import { labelledLadder } from '../../support/labelled-ladder.js'

const ladders = (bottle: string, haze: number, photos: number, seed: number): LabelledReading[] => {
  const draw = normalDraws(seed)
  return Array.from({ length: photos }, (_, i) =>
    labelledLadder({
      photo: `${bottle}-${i}.jpg`,
      ladderId: `${bottle}000${i}`,
      labels: { bottle },
      date: `2026-03-${String(i + 10)}`,
      haze: [1.6, 2, 2.5].map((exposureS) => ({ exposureS, value: haze + 0.002 * draw() })),
    }),
  )
}

it('finds the bottle that is hazier, and says by how much', () => {
  const comparison = valueOf(
    compareReadings([...ladders('A', 0.04, 4, 1), ...ladders('B', 0.08, 4, 2)], { by: 'bottle' }),
  )
  expect(Value.Check(Comparison, comparison)).toBe(true)
  expect(comparison.method).toBe('mixed')
  const [difference] = comparison.differences
  expect(difference).toMatchObject({ first: 'A', second: 'B', differs: true })
  expect(difference!.difference.interval[0]).toBeLessThan(0.04)
  expect(difference!.difference.interval[1]).toBeGreaterThan(0.04)
  expect(difference!.inWords).toMatch(/^B reads 0\.04\d* higher than A \(95 %: 0\.03\d* to 0\.04\d*\)\.$/)
})

it('answers "no difference that this many coupons could show", and how many would show it', () => {
  const one = valueOf(
    compareReadings([...ladders('A', 0.04, 4, 1), ...ladders('B', 0.04, 4, 3)], {
      by: 'bottle',
      wantedDifference: 0.001,
    }),
  ).differences[0]!
  expect(one.differs).toBe(false)
  expect(one.smallestDetectable).toBeGreaterThan(0.001)
  expect(one.couponsNeeded).toBeGreaterThan(12)
  expect(one.inWords).toMatch(/no difference that this many coupons could show; one of 0\.00\d+ would have shown/)
  expect(one.inWords).toContain(`take ${one.couponsNeeded} coupons of each`)
})

it('says that more coupons alone do not help where each bottle has one photograph', () => {
  const { differences, notes } = valueOf(
    compareReadings([...ladders('A', 0.04, 1, 1), ...ladders('B', 0.05, 1, 2)], {
      by: 'bottle',
      wantedDifference: 0.01,
    }),
  )
  expect(differences[0]!.couponsNeeded).toBeNull()
  expect(differences[0]!.inWords).toContain('take more photographs')
  expect(notes.map(({ code }) => code)).toEqual(['photos-stated'])
})

it('counts what photographs add of themselves, and warns of one taken from further off by its name', () => {
  const far = (one: LabelledReading): LabelledReading => ({
    ...one,
    reading: { ...one.reading, card: { ...one.reading.card, umPerPx: 1.3 * one.reading.card.umPerPx } },
  })
  const [near, other] = [ladders('A', 0.04, 1, 1), ladders('B', 0.05, 1, 2)]
  const alike = valueOf(compareReadings([...near, ...other], { by: 'bottle' }))
  // 0.012 stated for the coupons, 0.0032 for each photograph; the three coupons' scatter of 0.002 adds little.
  const { standardUncertainty } = alike.differences[0]!.difference
  expect(standardUncertainty).toBeGreaterThan(Math.hypot(0.012, 0.0032) * Math.SQRT2)
  expect(standardUncertainty).toBeLessThan(1.1 * Math.hypot(0.012, 0.0032) * Math.SQRT2)
  const { notes } = valueOf(compareReadings([...near, ...other.map(far)], { by: 'bottle' }))
  expect(notes.map(({ code }) => code)).toEqual(['photos-stated', 'photos-differ-in-scale'])
  expect(notes[1]!.detail).toMatch(/^A-0\.jpg and B-0\.jpg: \d+ and \d+ um a pixel/)
})

it('compares exposures, in order, and single slots by their own label', () => {
  const byExposure = valueOf(compareReadings(ladders('A', 0.04, 4, 1), { by: 'exposure' }))
  expect(byExposure.groups.map(({ group }) => group)).toEqual(['1.6 s', '2 s', '2.5 s'])
  expect(byExposure.differences).toHaveLength(3)
  const coated = ladders('A', 0.04, 4, 1).map((one) => ({
    ...one,
    labels: { finish: 'as printed' },
    slotLabels: { 2: { finish: 'coated' } },
  }))
  const byFinish = valueOf(compareReadings(coated, { by: 'finish' }))
  expect(byFinish.groups.map(({ group, coupons }) => [group, coupons])).toEqual([
    ['as printed', 8],
    ['coated', 4],
  ])
})

it('charts one bottle over time and dates its change', () => {
  const aged = ladders('A', 0.04, 16, 5).map((one, i) =>
    i < 9 ? one : { ...ladders('A', 0.046, 16, 6)[i]!, photo: one.photo, date: one.date },
  )
  const { overTime, differences } = valueOf(compareReadings(aged, { by: 'bottle' }))
  expect(differences).toEqual([])
  expect(overTime[0]).toMatchObject({ group: 'A', baseline: 8, change: { after: '2026-03-18' } })
  expect(overTime[0]!.inWords).toMatch(/^A changed by 0\.00[56]\d? after 2026-03-18\.$/)
  const steady = valueOf(compareReadings(ladders('A', 0.04, 16, 5), { by: 'bottle' })).overTime[0]!
  expect(steady.change).toBeUndefined()
  expect(steady.inWords).toBe('A: no change that 16 photographs could show.')
})

it.each([
  ['one-group', { by: 'bottle' as const }],
  ['nothing-to-compare', { by: 'printer' as const }],
  ['nothing-to-compare', { by: 'bottle' as const, exposureS: 9 }],
])('refuses as %s: %j', (code, options) => {
  expect(compareReadings(ladders('A', 0.04, 2, 1), options)).toMatchObject({ ok: false, refusal: { code } })
})
