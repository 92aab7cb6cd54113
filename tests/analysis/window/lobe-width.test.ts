import { expect, it } from 'vitest'
import { poolWidths, widthBeforehand } from '../../../analysis/window/lobe-width.js'

const beforehand = widthBeforehand(6)

it('expects half of the light within 2.5 to 30 degrees beforehand', () => {
  const angle = (deviations: number) =>
    (Math.atan(Math.exp(beforehand.mean + deviations * beforehand.standardUncertainty) / 6) * 180) / Math.PI
  // A rectangle reaches sqrt 3 deviations to each side.
  expect(angle(-Math.sqrt(3))).toBeCloseTo(2.5, 1)
  expect(Math.abs(angle(Math.sqrt(3)) - 27.6)).toBeLessThan(0.5)
})

it('stays with what was known when no window tells more', () => {
  const pooled = poolWidths([beforehand, beforehand], beforehand)
  expect(pooled.mean).toBeCloseTo(beforehand.mean, 9)
  expect(pooled.standardUncertainty).toBeGreaterThanOrEqual(beforehand.standardUncertainty)
})

it('follows the windows that tell their width, more of them more closely', () => {
  const told = { mean: Math.log(0.4), standardUncertainty: 0.15 }
  const one = poolWidths([told], beforehand)
  const six = poolWidths([told, told, told, told, told, told], beforehand)
  expect(Math.abs(six.mean - told.mean)).toBeLessThan(Math.abs(one.mean - told.mean))
  expect(Math.abs(six.mean - told.mean)).toBeLessThan(0.1)
  expect(six.standardUncertainty).toBeLessThan(one.standardUncertainty)
})
