import { describe, expect, it } from 'vitest'
import type { GrowthRung } from '../../../analysis/dose/coupon-readings.js'
import { findDoseToSize, sizeByModel } from '../../../analysis/dose/dose-to-size.js'
import { fitGrowth, gratingOffsets, growthAt, type GrowthFit } from '../../../analysis/dose/growth-fit.js'
import { makeRungs } from '../../support/ladders.js'
import { relativeError, valueOf } from '../../support/outcomes.js'
import { readReference } from '../../support/reference.js'

/** Fitted by R, see its source. */
const reference = readReference<{
  joint: { coefficients: number[]; standardErrors: number[]; spread: number }
  oneReading: { coefficients: number[]; standardErrors: number[]; spreadVariance: number }
  threshold: { blur: number; size: number; standardErrors: number[]; profile95OfSize: [number, number] }
}>('growth-joint-fit')

/** The readings of growth-joint-fit.R: coarse and fine grating of each coupon, um, with their scatter. */
const coupons = [
  [1.6, 'x', -20.1, 0.5, -18.9, 0.6],
  [1.6, 'y', -24.6, 0.7, -23.2, 0.5],
  [2, 'x', -11.5, 0.4, -9.2, 0.6],
  [2, 'y', -17.9, 0.5, -16.1, 0.5],
  [2.5, 'x', -4.4, 0.8, -2.0, 0.6],
  [2.5, 'y', -6.8, 0.5, -6.1, 0.7],
  [3.1, 'x', 5.3, 0.6, 6.1, 0.6],
  [3.1, 'y', -0.6, 0.5, 1.7, 0.4],
] as const
const twoGratings = coupons.map(([exposureS, axis, coarse, coarseU, fine, fineU], i): GrowthRung => ({
  slot: i + 1,
  exposureS,
  axis,
  // Nothing but the scatter of the lines differs from coupon to coupon.
  growthUm: { value: (coarse + fine) / 2, standardUncertainty: Math.hypot(coarseU, fineU) / 2 },
  gratings: [
    { group: 'x-coarse', growthUm: { value: coarse, standardUncertainty: coarseU } },
    { group: 'x-fine', growthUm: { value: fine, standardUncertainty: fineU } },
  ],
}))
const straight = (fit: GrowthFit) => fit.candidates.find(({ model }) => model === 'straight')!
const errors = (covariance: readonly (readonly number[])[]) => covariance.map((row, i) => Math.sqrt(row[i]!))

describe('the joint fit agrees with R', () => {
  it('over gratings, axes and repeated coupons with a random effect (metafor, REML)', () => {
    const fit = valueOf(fitGrowth(twoGratings))
    const line = straight(fit)
    const { coefficients, standardErrors, spread } = reference.joint
    // metafor's search for the spread stops at about six digits.
    expect(relativeError(Math.sqrt(line.spreadUm2), spread)).toBeLessThan(1e-5)
    coefficients.forEach((value, i) => expect(relativeError(line.parameters[i]!, value)).toBeLessThan(1e-6))
    errors(line.covariance).forEach((u, i) => expect(relativeError(u, standardErrors[i]!)).toBeLessThan(1e-5))
  })

  it('over single readings with stated variances (metafor, REML)', () => {
    const single = coupons.map(([exposureS, axis, value, standardUncertainty]) => ({
      exposureS,
      axis,
      growthUm: { value, standardUncertainty },
    }))
    const line = straight(valueOf(fitGrowth(single)))
    const { coefficients, standardErrors, spreadVariance } = reference.oneReading
    expect(relativeError(line.spreadUm2, spreadVariance)).toBeLessThan(1e-6)
    coefficients.forEach((value, i) => expect(relativeError(line.parameters[i]!, value)).toBeLessThan(1e-6))
    errors(line.covariance).forEach((u, i) => expect(relativeError(u, standardErrors[i]!)).toBeLessThan(1e-6))
  })

  it('on the threshold model and the profile limits of its dose-to-size (nls)', () => {
    const exposures = [1.5, 1.9, 2.4, 3, 3.8]
    const rungs = makeRungs([-14.6, -2.4, 8.1, 13.5, 21.4].map((y, i) => [exposures[i]!, y] as const))
    const fit = valueOf(fitGrowth(rungs, { noise: 'given' }))
    const model = fit.candidates.find(({ model }) => model === 'threshold')!
    const { blur, size, standardErrors, profile95OfSize } = reference.threshold
    // nls stops at a relative offset of 1e-7.
    expect(relativeError(model.parameters[0]!, blur)).toBeLessThan(1e-6)
    expect(relativeError(model.parameters[1]!, size)).toBeLessThan(1e-6)
    errors(model.covariance).forEach((u, i) => expect(relativeError(u, standardErrors[i]!)).toBeLessThan(1e-6))
    const { intervalS } = sizeByModel(fit, model)!
    intervalS.forEach((end, i) =>
      expect(Math.abs(Math.log(end / fit.referenceS) - profile95OfSize[i]!)).toBeLessThan(1e-7),
    )
  })
})

describe('turned coupons', () => {
  const fit = valueOf(fitGrowth(twoGratings))

  it('have an offset of their own when they differ, and a dose-to-size each', () => {
    expect(fit.axesDiffer).toBe(true)
    const [x, y] = (['x', 'y'] as const).map((axis) => findDoseToSize(fit, { axis }))
    // y grows 4.9 um less, so it takes more exposure: about exp(4.9 / 38) times as much.
    expect(valueOf(y!).exposureS / valueOf(x!).exposureS).toBeGreaterThan(1.1)
    for (const [outcome, axis] of [
      [x, 'x'],
      [y, 'y'],
    ] as const) {
      const { exposureS } = valueOf(outcome!)
      expect(growthAt(fit, exposureS, axis).value).toBeCloseTo(0, 9)
    }
  })

  it('count like the others when they do not', () => {
    const alike = twoGratings.map((rung, i) =>
      i % 2 === 0 ? rung : { ...twoGratings[i - 1]!, axis: 'y' as const, slot: i + 1 },
    )
    const same = valueOf(fitGrowth(alike))
    expect(same.axesDiffer).toBe(false)
    expect(same.axisDifferenceUm!.value).toBeCloseTo(0, 9)
    expect(growthAt(same, 2, 'x')).toEqual(growthAt(same, 2, 'y'))
  })
})

it('gives gratings offsets that add up to zero', () => {
  const [coarse, fine] = gratingOffsets(valueOf(fitGrowth(twoGratings)))
  expect(coarse!.group).toBe('x-coarse')
  expect(coarse!.offsetUm.value).toBeCloseTo(-fine!.offsetUm.value, 12)
})

it('is not led astray by a grating that one coupon lacks', () => {
  // Without noise, but with offsets of -3 and 3 um: the mean of what is left would read 3 um too big.
  const rungs = [1.6, 2, 2.5, 3.1, 3.9].map((exposureS, i): GrowthRung => {
    const growth = 30 * Math.log(exposureS / 2.4)
    const gratings = [-3, 3].map((offset, g) => ({
      group: `g${g}`,
      growthUm: { value: growth + offset, standardUncertainty: 0.5 },
    }))
    const kept = i === 4 ? gratings.slice(1) : gratings
    const value = kept.reduce((sum, { growthUm }) => sum + growthUm.value, 0) / kept.length
    return { exposureS, growthUm: { value, standardUncertainty: 0.6 }, gratings: kept }
  })
  const fit = valueOf(fitGrowth(rungs))
  expect(fit.chosen.model).toBe('straight')
  expect(fit.chosen.parameters[1]).toBeCloseTo(30, 9)
  expect(valueOf(findDoseToSize(fit)).exposureS).toBeCloseTo(2.4, 9)
  for (const { residualUm } of fit.rungs) expect(residualUm).toBeCloseTo(0, 9)
})
