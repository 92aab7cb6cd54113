import { describe, expect, it } from 'vitest'
import { Value } from 'typebox/value'
import { combineReadings, CombinedLadder, type ReadLadder, type ReadRung } from '../../../analysis/index.js'
import { combineGrowth } from '../../../analysis/combine/combine-growth.js'
import { fitPhotoOffsets } from '../../../analysis/combine/photo-offsets.js'
import { repeatMeans } from '../../../analysis/combine/repeat-mean.js'
import { normalDraws } from '../../support/random.js'
import { answered } from '../../support/reading-fixture.js'

const template = answered.rungs[0] as ReadRung
const exposures = answered.design.exposuresS
const INK_UM = 3
const TONE_UM = 1.5
const LINES_UM = 0.5
const NOISE_UM = 0.6

function rung(slot: number, growthUm: number, printThroughUm = 300): ReadRung {
  const terms = [
    { source: 'scatter of the lines', standardUncertaintyUm: LINES_UM, shared: false },
    { source: 'blur', standardUncertaintyUm: NOISE_UM, shared: false, averages: true },
    { source: 'ink and rim', standardUncertaintyUm: INK_UM, shared: true },
    { source: 'tone', standardUncertaintyUm: TONE_UM, shared: true, averages: true },
  ]
  return {
    ...template,
    slot,
    exposureS: exposures[slot - 1] ?? NaN,
    growthUm: {
      value: growthUm,
      standardUncertainty: Math.hypot(INK_UM, TONE_UM, LINES_UM, NOISE_UM),
      withinPhotoUncertainty: Math.hypot(LINES_UM, NOISE_UM),
    },
    printThroughUm: { value: printThroughUm, standardUncertainty: 5 },
    uncertaintyBudget: terms,
  }
}
const ladder = (growths: readonly (number | undefined)[]): ReadLadder => ({
  ...answered,
  warnings: [],
  rungs: growths.map((growth, i) =>
    growth === undefined
      ? {
          slot: i + 1,
          exposureS: exposures[i] ?? NaN,
          outlinePx: [],
          refusal: { code: 'glare', advice: 'Move the light.' },
        }
      : rung(i + 1, growth),
  ),
})
const combined = (...args: Parameters<typeof combineReadings>) => {
  const outcome = combineReadings(...args)
  if (!outcome.ok) throw new Error(outcome.refusal.code)
  return outcome.value
}
const growths = ({ rungs }: CombinedLadder) => rungs.map((r) => ('growthUm' in r ? r.growthUm : undefined))
const truth = [-25, -15, -5, 5, 15, 25]

describe('several photographs of one ladder', () => {
  it('give a result that its published schema accepts', () => {
    const result = combined([ladder(truth), ladder(truth.map((g) => g + 1))])
    expect(Value.Check(CombinedLadder, result)).toBe(true)
    expect(result.suggestion).toBeDefined()
  })

  it('keep each grating, freed of the offset of its photograph, for a joint fit as of one photograph', () => {
    const apart = (shift: number): ReadLadder => {
      const one = ladder(truth.map((g) => g + shift))
      const gratingsOf = (growthUm: number) =>
        template.gratings.map((grating, i) => ({
          ...grating,
          growthUm: { value: growthUm + (i === 0 ? 2 : -2 / (template.gratings.length - 1)), standardUncertainty: 0.4 },
        }))
      return {
        ...one,
        rungs: one.rungs.map((r) => ('growthUm' in r ? { ...r, gratings: gratingsOf(r.growthUm.value) } : r)),
      }
    }
    const result = combined([apart(0), apart(3)])
    const [first] = result.rungs
    if (!first || !('growthUm' in first)) throw new Error('not read')
    expect(first.gratings.map(({ group }) => group)).toEqual(template.gratings.map(({ group }) => group))
    expect(first.gratings[0]!.growthUm.value - first.growthUm.value).toBeCloseTo(2, 6)
    expect(first.gratings[0]!.growthUm.standardUncertainty).toBeCloseTo(0.4, 9)
    const offset = result.growthFit!.gratingOffsets.find(({ group }) => group === template.gratings[0]!.group)
    expect(offset!.offsetUm.value).toBeCloseTo(2, 6)
  })

  it('average what differs between them, and nothing that is the same each time', () => {
    const four = growths(combined([ladder(truth), ladder(truth), ladder(truth), ladder(truth)]))
    // Four photographs halve tone and noise; ink and the lines' own scatter stay.
    expect(four[0]?.standardUncertainty).toBeCloseTo(Math.hypot(INK_UM, LINES_UM, TONE_UM / 2, NOISE_UM / 2), 1)
    expect(four[0]?.withinPhotoUncertainty).toBeCloseTo(Math.hypot(LINES_UM, NOISE_UM / 2), 1)
    expect(four[0]?.standardUncertainty).toBeGreaterThan(INK_UM)
  })

  it('state intervals that hold the truth: absolute growth and differences on 1000 simulated sets of three', () => {
    const deviate = normalDraws(11)
    const n = 1000
    let absolute = 0
    let difference = 0
    for (let i = 0; i < n; i++) {
      const ink = INK_UM * deviate()
      const lines = truth.map(() => LINES_UM * deviate())
      const photos = [0, 1, 2].map(() => {
        const tone = TONE_UM * deviate()
        return truth.map((g, s) => rung(s + 1, g + ink + lines[s]! + tone + NOISE_UM * deviate()))
      })
      const { slots } = combineGrowth(photos, [1 / 3, 1 / 3, 1 / 3])
      const [first, fourth] = [slots.get(1)?.growthUm, slots.get(4)?.growthUm]
      if (!first || !fourth) throw new Error('a rung is missing')
      if (Math.abs(first.value - truth[0]!) < 1.96 * first.standardUncertainty) absolute++
      const u = Math.hypot(first.withinPhotoUncertainty, fourth.withinPhotoUncertainty)
      if (Math.abs(fourth.value - first.value - 30) < 1.96 * u) difference++
    }
    for (const share of [absolute / n, difference / n]) {
      expect(share).toBeGreaterThan(0.93)
      expect(share).toBeLessThan(0.99)
    }
  })

  it('that disagree more than they state widen the answer and say so', () => {
    const agree = combined([ladder(truth), ladder(truth)])
    const disagree = combined([ladder(truth), ladder(truth.map((g) => g + 15))])
    expect(disagree.warnings.map(({ code }) => code)).toContain('photos-disagree')
    expect(growths(disagree)[0]?.standardUncertainty).toBeGreaterThan(
      growths(agree)[0]?.standardUncertainty ?? Infinity,
    )
    expect(disagree.photos.map(({ offsetUm }) => Math.round(offsetUm * 10) / 10)).toEqual([-7.5, 7.5])
    // Two coupons that changed places.
    const swapped = combined([ladder(truth), ladder([-15, -25, -5, 5, 15, 25])])
    expect(swapped.warnings.map(({ code }) => code)).toContain('coupons-disagree')
    expect(growths(swapped)[0]?.withinPhotoUncertainty).toBeGreaterThan(2)
  })

  it('keep an offset of one photograph out of the differences where it shows only some coupons', () => {
    const partly = ladder([undefined, undefined, undefined, 5 + 8, 15 + 8, 25 + 8])
    const values = growths(combined([ladder(truth), partly])).map((g) => g?.value ?? NaN)
    expect(values[3]! - values[2]!).toBeCloseTo(10, 6)
    const both = combined([partly, partly])
    expect(both.rungs[0]).toMatchObject({ slot: 1, refusal: { code: 'glare' } })
  })

  it('take one caliper reading once, however many photographs came with it', () => {
    const plain = combined([ladder(truth), ladder(truth)])
    const caliperMm = [{ slot: 1, widthMm: 3.98 }]
    const anchored = combined([ladder(truth), ladder(truth)], { caliperMm })
    expect(anchored.caliper?.tabs.length).toBe(1)
    expect(growths(anchored)[0]?.standardUncertainty).toBeLessThan(growths(plain)[0]?.standardUncertainty ?? 0)
    expect(anchored.suggestion?.confidence).toMatch(/One caliper reading anchors it/)
  })

  it('of cards of two editions count as of one ladder', () => {
    const older = { ...ladder(truth), design: { ...answered.design, cardEdition: 1 as const } }
    expect(combineReadings([ladder(truth), older]).ok).toBe(true)
  })

  it('of different ladders are refused', () => {
    const other = { ...ladder(truth), design: { ...answered.design, ladderId: 'OTHER1' } }
    const outcome = combineReadings([ladder(truth), other])
    expect(outcome.ok ? 'combined' : outcome.refusal.code).toBe('other-ladder')
    expect(combineReadings([]).ok).toBe(false)
  })
})

describe('the two-way layout', () => {
  it('is row and column means when no cell is missing', () => {
    // Scheffe, The Analysis of Variance, 4.1: estimates are the marginal means.
    const x = [
      [3, 5, 10],
      [4, 8, 9],
    ]
    const fit = fitPhotoOffsets(
      x.flatMap((row, photo) => row.map((growthUm, slot) => ({ photo, slot, growthUm, noiseUm: 1 }))),
      [0.5, 0.5],
    )
    for (const [i, mean] of [3.5, 6.5, 9.5].entries()) expect(fit.slots.get(i)?.growthUm).toBeCloseTo(mean, 9)
    expect(fit.offsetsUm).toEqual([expect.closeTo(-0.5, 9), expect.closeTo(0.5, 9)])
    expect(fit.birgeRatio).toBeCloseTo(Math.sqrt(4 / 2), 9)
  })

  it('takes offsets as nothing where no coupon links the photographs', () => {
    const fit = fitPhotoOffsets(
      [
        { photo: 0, slot: 1, growthUm: 4, noiseUm: 1 },
        { photo: 1, slot: 2, growthUm: 9, noiseUm: 1 },
      ],
      [0.5, 0.5],
    )
    expect(fit.told).toBe(false)
    expect(fit.slots.get(2)?.growthUm).toBeCloseTo(9, 9)
  })
})

describe('means of repeats', () => {
  it('pool the scatter over coupons: GUM 4.2.4 with two coupons of two repeats', () => {
    const value = (v: number) => ({ value: v, standardUncertainty: 2 })
    const means = repeatMeans(
      [
        [
          { photo: 0, measured: value(10) },
          { photo: 1, measured: value(12) },
        ],
        [
          { photo: 0, measured: value(20) },
          { photo: 1, measured: value(26) },
        ],
      ],
      [0.5, 0.5],
    )
    // Pooled variance (2 + 18) / 2 = 10, of a mean of two 5; the stated 2 stays whole.
    expect(means).toEqual([
      { value: 11, standardUncertainty: expect.closeTo(3, 9) as number },
      { value: 23, standardUncertainty: expect.closeTo(3, 9) as number },
    ])
  })
})
