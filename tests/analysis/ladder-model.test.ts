import { describe, expect, it } from 'vitest'
import { expectAt } from '../../analysis/dose/expect-at.js'
import { growthAt } from '../../analysis/dose/growth-fit.js'
import { doseBelow, transferRatios } from '../../analysis/dose/layer-transfer.js'
import { layerLadderOf, layerSourceOf, ladderModel } from '../../analysis/ladder-model.js'
import type { ReadLadder } from '../../analysis/result.js'
import { answered, unbracketed } from '../support/reading-fixture.js'
import { valueOf } from '../support/outcomes.js'

const reading = answered
const model = valueOf(ladderModel(reading))

describe('the made-up reading as a model', () => {
  it('finds the depth its print-through was made with', () => {
    // 310 + 140 ln(exposure), without scatter.
    expect(model.depth!.valueUm).toBeCloseTo(140, 6)
    expect(model.depth!.intervalUm[0]).toBeLessThan(140)
  })

  it('brings exposure, depth, print-through and slope to another layer height', () => {
    const source = valueOf(layerSourceOf(reading))
    expect(source.exposureS).toBe(reading.suggestion!.exposureS)
    expect(source.printThroughUm).toBeCloseTo(310 + 140 * Math.log(source.exposureS), 6)
    expect(source.growthSlopeUm).toBe(reading.growthFit!.coefficients[1])
    expect(valueOf(layerLadderOf(reading)).exposureS).toBe(reading.doseToSize!.exposureS)
  })

  it('has nothing to bring when no exposure was suggested', () => {
    expect(layerSourceOf(unbracketed)).toMatchObject({ refusal: { code: 'no-suggestion' } })
    expect(layerLadderOf({ ...reading, doseToSize: undefined } as unknown as ReadLadder)).toMatchObject({
      refusal: { code: 'no-dose-to-size' },
    })
  })
})

describe('what to expect', () => {
  it('is the fit itself at the own layer height', () => {
    const { equivalentS, place, growthUm, printThroughUm } = expectAt(model, 2.4, 50)
    expect(equivalentS).toEqual({ value: 2.4, low: 2.4, high: 2.4 })
    expect(place).toBe('within')
    const { value, standardUncertainty } = growthAt(model.fit, 2.4)
    expect(growthUm!.value).toBeCloseTo(value, 12)
    expect(growthUm!.high - value).toBeGreaterThan(1.9 * standardUncertainty)
    expect(printThroughUm!.value).toBeCloseTo(310 + 140 * Math.log(2.4), 6)
  })

  it('is that of the exposure which accumulates as much, at another layer height', () => {
    const ratio = transferRatios(50, 30, model.depth!.valueUm).accumulatedNear
    const there = expectAt(model, 2.4 * ratio, 30)
    expect(there.equivalentS.value).toBeCloseTo(2.4, 10)
    expect(there.equivalentS.low).toBeLessThan(2.4)
    expect(there.equivalentS.high).toBeGreaterThan(2.4)
    expect(there.growthUm!.value).toBeCloseTo(expectAt(model, 2.4, 50).growthUm!.value, 8)
  })

  it('is wider when the depth is unknown', () => {
    const width = ({ low, high }: { low: number; high: number }) => high - low
    const known = expectAt(model, 1.6, 30).growthUm!
    const unknown = expectAt({ ...model, depth: undefined }, 1.6, 30).growthUm!
    expect(width(unknown)).toBeGreaterThan(width(known))
  })

  it('says nothing but doses outside the rungs', () => {
    const above = expectAt(model, 9, 50)
    expect(above.place).toBe('above')
    expect(above.growthUm ?? above.haze ?? above.printThroughUm).toBeUndefined()
    expect(above.survival).toEqual([])
    expect(expectAt(model, 0.5, 50).place).toBe('below')
    expect(above.accumulatedDose.length).toBeGreaterThan(10)
  })

  it('gives the dose by depth of a stack of layers', () => {
    const { accumulatedDose } = expectAt(model, 2, 30)
    for (const { depthUm, value } of accumulatedDose)
      expect(value).toBeCloseTo(doseBelow(depthUm, 30, model.depth!.valueUm), 12)
    expect(accumulatedDose[0]!.depthUm).toBe(0)
  })

  it('throws for an exposure that is none', () => {
    expect(() => expectAt(model, 0, 50)).toThrow(new RangeError('expectAt needs an exposure above 0 s, got 0'))
  })
})
