import { expect, it } from 'vitest'
import { couponLayout } from '../../../analysis/layout/coupon.js'
import { DEFAULT_COUPON } from './options.js'
import { isolatedWidthsUm, printVoids, type PrintedVoid } from './printed-coupon.js'

const layout = couponLayout({ pixelPitchUm: 34, layerHeightUm: 50 })
const print = (options: Partial<typeof DEFAULT_COUPON>, seed = 1): PrintedVoid[] =>
  printVoids(layout, { ...DEFAULT_COUPON, ...options }, seed)
const found = (voids: PrintedVoid[], id: string): PrintedVoid['rectMm'] => voids.find((v) => v.id === id)?.rectMm

it('narrows grooves by the growth of both sides and leaves their pitch', () => {
  const voids = print({ growthUm: 30 })
  const grating = layout.gratings[0]
  const [first, second] = ['x-narrow_0', 'x-narrow_1'].map((id) => found(voids, id))
  expect((first?.x1 ?? 0) - (first?.x0 ?? 0)).toBeCloseTo((grating?.grooveMm ?? 0) - 0.06, 9)
  expect((second?.x0 ?? 0) - (first?.x0 ?? 0)).toBeCloseTo(grating?.pitchMm ?? 0, 9)
})

it('lowers the later-printed side of a gap by the print-through and closes what it passes', () => {
  const voids = print({ printThroughUm: 450, earlierGrowthUm: 10 })
  expect(found(voids, 'z-gap-0.4')).toBeUndefined()
  const gap = layout.gaps.find(({ id }) => id === 'z-gap-0.8')
  expect(found(voids, 'z-gap-0.8')?.y1).toBeCloseTo((gap?.y1Mm ?? 0) - 0.45, 9)
  expect(found(voids, 'z-gap-0.8')?.y0).toBeCloseTo((gap?.y0Mm ?? 0) + 0.01, 9)
})

it('loses spaces to growth and lines to shrinkage, thin ones first', () => {
  const grown = isolatedWidthsUm(layout, print({ growthUm: 60 }))
  expect(grown['space-0.1']).toBe(0)
  expect(grown['space-0.2']).toBeCloseTo(204 - 120, 6)
  expect(grown['line-0.1']).toBeCloseTo(102 + 120, 6)
  const shrunk = isolatedWidthsUm(layout, print({ growthUm: -60 }))
  expect(shrunk['line-0.1']).toBe(0)
  expect(shrunk['line-0.2']).toBeCloseTo(204 - 120, 6)
  expect(shrunk['space-0.1']).toBeCloseTo(102 + 120, 6)
})

it('scatters edges by the asked deviation, the same for the same seed', () => {
  const errors = Array.from({ length: 40 }, (_, seed) => print({ edgeScatterUm: 5 }, seed + 1)).flatMap((voids) =>
    voids.flatMap(({ id, rectMm }) => (id.startsWith('x-wide_') && rectMm ? [rectMm.x1 - rectMm.x0] : [])),
  )
  const mean = errors.reduce((a, b) => a + b, 0) / errors.length
  const deviationUm = 1000 * Math.sqrt(errors.reduce((sum, e) => sum + (e - mean) ** 2, 0) / (errors.length - 1))
  // Two edges a width; 320 widths know their deviation to 1 / sqrt(640) = 4 %; three times that.
  expect(Math.abs(deviationUm / (5 * Math.SQRT2) - 1)).toBeLessThan(0.12)
  expect(print({ edgeScatterUm: 5 }, 7)).toEqual(print({ edgeScatterUm: 5 }, 7))
})
