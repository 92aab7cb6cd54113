import { expect, it } from 'vitest'
import { doseThroughPlate } from '../../../analysis/finish/dose-at-depth.js'
import { equalExposureS, radiantExposureJPerCm2 } from '../../../analysis/finish/radiant-exposure.js'

it('gives 2 min 51 s at 70 W for 5 min at 40 W', () => {
  // Common practice, no source: the pair of times as the trade states it, in whole seconds.
  expect(Math.round(equalExposureS(300, 40, 70))).toBe(2 * 60 + 51)
})

it('counts 1 W/cm2 for 1 s as 1 J/cm2', () => {
  // SI: 1 W s = 1 J. 10 mW/cm2 for ten minutes are 6 J/cm2.
  expect(radiantExposureJPerCm2(1000, 1)).toBe(1)
  expect(radiantExposureJPerCm2(10, 600)).toBeCloseTo(6, 12)
})

it('throws for a lamp without power', () => {
  expect(() => equalExposureS(300, 40, 0)).toThrow(new RangeError('equalExposureS needs to above 0, got 0'))
})

it('gives the middle of a plate 1 / cosh(L / 2D) of the dose at its faces', () => {
  // Closed form: exp(-z/D) + exp(-(L-z)/D) = 2 exp(-L/2D) cosh((z - L/2)/D).
  const through = doseThroughPlate(6, 4, 1.5, 10)
  const [face, middle] = [through[0]!, through[5]!]
  expect(middle.bothJPerCm2 / face.bothJPerCm2).toBeCloseTo(1 / Math.cosh(4 / 3), 12)
  expect(face.fromFrontJPerCm2).toBe(6)
  expect(through[10]!.bothJPerCm2).toBeCloseTo(face.bothJPerCm2, 12)
})
