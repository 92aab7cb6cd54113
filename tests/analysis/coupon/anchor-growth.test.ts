import { describe, expect, it } from 'vitest'
import { anchorGrowth } from '../../../analysis/coupon/anchor-growth.js'
import type { ReadRung, Rung } from '../../../analysis/index.js'
import { normalDraws } from '../../support/random.js'
import { answered } from '../../support/reading-fixture.js'

const NOMINAL_MM = 4.012
const template = answered.rungs[0] as ReadRung

function rung(slot: number, growthUm: number, sharedUm: number, ownUm = 1): ReadRung {
  return {
    ...template,
    slot,
    growthUm: {
      value: growthUm,
      standardUncertainty: Math.hypot(ownUm, sharedUm),
      withinPhotoUncertainty: ownUm,
    },
    uncertaintyBudget: [
      { source: 'scatter of the lines', standardUncertaintyUm: ownUm, shared: false },
      { source: 'ink and rim of the grooves', standardUncertaintyUm: sharedUm, shared: true },
    ],
  }
}
const growthOf = (rungs: readonly Rung[]) => rungs.flatMap((r) => ('growthUm' in r ? [r.growthUm] : []))
const widthMm = (growthUm: number) => NOMINAL_MM + (2 * growthUm) / 1000

describe('a caliper reading of the tabs', () => {
  it('weighs photo and caliper by their variances, as the best linear unbiased estimate does', () => {
    // Closed form for two values of one offset: 0 with u = 6 um beforehand, D = 8 um from the caliper. u(D): reading
    // (1 um scatter and half of 0.01/sqrt(3) mm), instrument 5 um per side, shrinkage 0.2 % of 4.012 mm, half of it.
    const photo = [rung(1, 12, 6), rung(2, 30, 6)]
    const { rungs, caliper, warnings } = anchorGrowth(
      photo,
      { caliperMm: [{ slot: 1, widthMm: widthMm(4) }], caliperUncertaintyMm: 0.01 },
      NOMINAL_MM,
    )
    const variance = 1 + (5 / Math.sqrt(3)) ** 2 + 5 ** 2 + 4.012 ** 2
    const weight = 36 / (36 + variance)
    expect(caliper?.appliedUm).toBeCloseTo(8 * weight, 9)
    expect(warnings).toEqual([])
    const [first, second] = growthOf(rungs)
    expect(first?.value).toBeCloseTo(12 - 8 * weight, 9)
    // Variance of the estimate: the harmonic sum of both.
    expect((first?.standardUncertainty ?? 0) ** 2).toBeCloseTo(1 + 1 / (1 / 36 + 1 / variance), 9)
    expect((second?.value ?? 0) - (first?.value ?? 0)).toBeCloseTo(18, 9)
    expect(second?.withinPhotoUncertainty).toBe(1)
  })

  it('keeps the photo alone, and its budget adds up to the stated uncertainty', () => {
    const photo = [rung(1, 12, 6), rung(2, 30, 6)]
    const { rungs, caliper } = anchorGrowth(photo, { caliperMm: [{ slot: 2, widthMm: 4.06 }] }, NOMINAL_MM)
    expect(caliper?.photoAlone.map(({ growthUm }) => growthUm.value)).toEqual([12, 30])
    for (const r of rungs)
      if ('growthUm' in r)
        expect(Math.hypot(...r.uncertaintyBudget.map((t) => t.standardUncertaintyUm))).toBeCloseTo(
          r.growthUm.standardUncertainty,
          9,
        )
  })

  it('states intervals that hold the truth: 95 % of 2000 simulated ladders', () => {
    const deviate = normalDraws(7)
    let inside = 0
    let narrower = 0
    const n = 2000
    for (let i = 0; i < n; i++) {
      const offset = 8 * deviate()
      const caliperOffset = Math.hypot(0.02 / Math.sqrt(3) / 2, (0.002 * NOMINAL_MM) / 2) * 1000 * deviate()
      const truth = [-10, 5, 20]
      const photo = truth.map((g, k) => rung(k + 1, g + offset + deviate(), 8))
      const caliperMm = truth.map((g, k) => ({
        slot: k + 1,
        widthMm: widthMm(g + caliperOffset + (5 / Math.sqrt(3)) * deviate()),
      }))
      const [first] = growthOf(anchorGrowth(photo, { caliperMm }, NOMINAL_MM).rungs)
      if (!first) throw new Error('no rung')
      if (Math.abs(first.value - truth[0]!) < 1.96 * first.standardUncertainty) inside++
      if (first.standardUncertainty < 8) narrower++
    }
    // 0.95 within three standard deviations of a binomial share.
    expect(inside / n).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / n))
    expect(inside / n).toBeLessThan(0.98)
    // Widened where the two disagree by more than three standard uncertainties by chance, 0.3 %.
    expect(narrower / n).toBeGreaterThan(0.99)
  })

  it('that disagrees by more than three standard uncertainties is said, and widens the interval to reach both', () => {
    const photo = [rung(1, -30, 3), rung(2, -10, 3)]
    const { rungs, warnings } = anchorGrowth(photo, { caliperMm: [{ slot: 1, widthMm: widthMm(10) }] }, NOMINAL_MM)
    expect(warnings.map(({ code }) => code)).toEqual(['caliper-disagrees'])
    expect(warnings[0]?.advice).toMatch(/rims/)
    const [first] = growthOf(rungs)
    const plain = growthOf(
      anchorGrowth(photo, { caliperMm: [{ slot: 1, widthMm: widthMm(-30) }] }, NOMINAL_MM).rungs,
    )[0]
    expect(first?.standardUncertainty).toBeGreaterThan(3 * (plain?.standardUncertainty ?? Infinity))
  })

  it('of a slot that was not read changes nothing and is said', () => {
    const photo = [rung(1, 12, 6)]
    const { rungs, caliper, warnings } = anchorGrowth(photo, { caliperMm: [{ slot: 4, widthMm: 4.02 }] }, NOMINAL_MM)
    expect(rungs).toEqual(photo)
    expect(caliper).toBeUndefined()
    expect(warnings.map(({ code }) => code)).toEqual(['caliper-not-used'])
  })
})
