import { describe, expect, it } from 'vitest'
import { changeLayerHeight, UNKNOWN_DEPTH } from '../../../analysis/dose/layer-height.js'
import { doseBelow, doseGain, transferRatios } from '../../../analysis/dose/layer-transfer.js'
import { relativeError } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

interface Row {
  readonly Dp_mm: number
  readonly h1_mm: number
  readonly h2_mm: number
  readonly bond: number
  readonly acc_near_face: number
  readonly acc_mean: number
  readonly acc_far_face: number
  readonly gain1_inf: number
  readonly gain2_inf: number
  readonly printthrough1_mm: number
  readonly overcure_change_if_acc_near_rule_mm: number
}
const { rows } = readReference<{ rows: Row[] }>('layer-transfer')

describe.each(rows)('from $h1_mm to $h2_mm mm at Dp $Dp_mm mm, against the table', (row) => {
  const [fromUm, toUm, depthUm] = [1000 * row.h1_mm, 1000 * row.h2_mm, 1000 * row.Dp_mm]
  const depth = { valueUm: depthUm, intervalUm: [depthUm, depthUm] as const }

  it('gives the ratios of all rules', () => {
    const ratios = transferRatios(fromUm, toUm, depthUm)
    // Closed forms in double precision on both sides.
    expect(relativeError(ratios.bond, row.bond)).toBeLessThan(1e-12)
    expect(relativeError(ratios.accumulatedNear, row.acc_near_face)).toBeLessThan(1e-12)
    expect(relativeError(ratios.accumulatedMean, row.acc_mean)).toBeLessThan(1e-12)
    expect(relativeError(ratios.accumulatedFar, row.acc_far_face)).toBeLessThan(1e-12)
  })

  it('gives the gain of the stack', () => {
    expect(relativeError(doseGain(fromUm, depthUm), row.gain1_inf)).toBeLessThan(1e-12)
    expect(relativeError(doseGain(toUm, depthUm), row.gain2_inf)).toBeLessThan(1e-12)
  })

  it('gives exposure, overcure and dose by each rule', () => {
    const { bond, accumulated } = changeLayerHeight({ exposureS: 2, fromUm, toUm, depth })
    expect(relativeError(bond.exposureS, 2 * row.bond)).toBeLessThan(1e-12)
    expect(relativeError(accumulated.exposureS, 2 * row.acc_near_face)).toBeLessThan(1e-12)
    expect(accumulated.overcureChangeUm).toBeCloseTo(1000 * row.overcure_change_if_acc_near_rule_mm, 9)
    expect(bond.overcureChangeUm).toBeCloseTo(0, 9)
    expect(accumulated.accumulatedDoseRatio).toBeCloseTo(1, 12)
    expect(bond.accumulatedDoseRatio).toBeCloseTo((row.bond * row.gain2_inf) / row.gain1_inf, 12)
  })

  it('takes overcure from print-through, which exceeds the cure depth by what the stack adds', () => {
    // A layer that cures 20 um beyond its height prints through as far as the table's stack adds to that.
    const printThroughUm = fromUm + 20 + 1000 * row.printthrough1_mm
    const { bond } = changeLayerHeight({ exposureS: 2, fromUm, toUm, depth, printThroughUm })
    expect(bond.overcureUm).toBeCloseTo(20, 8)
  })
})

const change = { exposureS: 2.7, fromUm: 50, toUm: 30 }

describe('with a depth that was measured', () => {
  const depth = { valueUm: 260, intervalUm: [240, 283] as const }
  const { bond, accumulated, bracketS, confirmingLadderS, depthIs } = changeLayerHeight({
    ...change,
    intervalS: [2.5, 2.95],
    depth,
    growthSlopeUm: 45,
  })

  it('combines its interval with that of the exposure', () => {
    expect(depthIs).toBe('known')
    // The depth moves the bond rule by (20 um) (1/240 - 1/260), under 1 %: the exposure's interval remains.
    const ends = [2.5 / 2.7, 2.95 / 2.7].map((end, i) =>
      Math.exp(Math.sign(Math.log(end)) * Math.hypot(Math.log(end), 20 / 260 - 20 / depth.intervalUm[i]!)),
    )
    bond.intervalS.forEach((end, i) => expect(end / bond.exposureS).toBeCloseTo(ends[i]!, 10))
    expect(bracketS).toEqual([accumulated.intervalS[0], bond.intervalS[1]])
  })

  it('says what each end risks, in numbers', () => {
    expect(bond.risk).toMatch(/^1\.49 times the accumulated dose: walls may swell/)
    // 45 um times ln of that dose.
    expect(bond.growthChangeUm).toBeCloseTo(45 * Math.log(bond.accumulatedDoseRatio), 10)
    expect(bond.growthChangeUm).toBeGreaterThan(17)
    expect(accumulated.growthChangeUm).toBeCloseTo(0, 9)
    expect(accumulated.risk).toMatch(/^\d+ um less overcure: layers may bond weakly/)
  })

  it('proposes three rungs from one rule to the other', () => {
    expect(confirmingLadderS).toHaveLength(3)
    expect(Math.abs(confirmingLadderS[0]! - accumulated.exposureS)).toBeLessThan(0.06)
    expect(Math.abs(confirmingLadderS[2]! - bond.exposureS)).toBeLessThan(0.06)
  })
})

it('owns up when print-through is too small for the layers to have met', () => {
  const depth = { valueUm: 260, intervalUm: [240, 283] as const }
  const { bond, note } = changeLayerHeight({ ...change, depth, printThroughUm: 300 })
  expect(bond.overcureUm).toBeUndefined()
  expect(note).toContain('Overcure cannot be told')
  expect(changeLayerHeight({ ...change, depth, printThroughUm: 600 }).note).toBeUndefined()
})

it('spans the whole prior range when the depth is unknown, and says so', () => {
  const { bond, accumulated, inWords, depthIs } = changeLayerHeight(change)
  expect(depthIs).toBe('unknown')
  const [shallow, deep] = UNKNOWN_DEPTH.intervalUm
  expect(bond.intervalS[0]).toBeCloseTo(2.7 * Math.exp(-20 / shallow), 10)
  expect(bond.intervalS[1]).toBeCloseTo(2.7 * Math.exp(-20 / deep), 10)
  expect(accumulated.intervalS[0]).toBeCloseTo(2.7 * transferRatios(50, 30, deep).accumulatedNear, 10)
  expect(inWords).toContain('the penetration depth is not known and was taken as 50 to 600 um')
})

it('turns the risks about for thicker layers', () => {
  const { bond, accumulated } = changeLayerHeight({ ...change, toUm: 100 })
  expect(bond.risk).toContain('narrow ones fall')
  expect(accumulated.risk).toContain('more overcure')
  expect(accumulated.exposureS).toBeGreaterThan(bond.exposureS)
})

it('keeps three different rungs when both rules agree', () => {
  const { confirmingLadderS } = changeLayerHeight({ ...change, toUm: 49 })
  expect(new Set(confirmingLadderS).size).toBe(3)
})

it('adds up the dose below a stack layer by layer', () => {
  // Straight sum over 2000 layers, the term of the series that is left being under 1e-40.
  let sum = 0
  for (let layer = 0; layer < 2000; layer++) sum += Math.exp(-(120 + layer * 50) / 300)
  expect(relativeError(doseBelow(120, 50, 300), sum)).toBeLessThan(1e-12)
})

it.each([
  [{ ...change, exposureS: 0 }, 'changeLayerHeight needs exposures, depths and their intervals above 0, got 0'],
  [{ ...change, toUm: -1 }, 'transferRatios needs toUm above 0, got -1'],
])('throws for %o', (wrong, message) => {
  expect(() => changeLayerHeight(wrong)).toThrow(new RangeError(message))
})
