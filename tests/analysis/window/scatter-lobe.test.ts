import { expect, it } from 'vitest'
import { lobeAmplitude, scatteredBlack, shareBeyond } from '../../../analysis/window/scatter-lobe.js'

// Transform of a^2 / (pi (a^2 + r^2)^2) is k a K1(k a). K1 from Abramowitz & Stegun, Handbook of Mathematical
// Functions, table 9.8 (e^x K1 for x = 1, 2; K1(0.5) 1.6564). Six normal distributions stand for the law: 0.03.
it.each([
  [0.5, 1.6564],
  [1, 0.6019],
  [2, 0.1399],
])('keeps k a K1(k a) of a grating at k a = %d', (ka, k1) => {
  expect(Math.abs(lobeAmplitude(2 * Math.PI, ka) - ka * k1)).toBeLessThan(0.03)
})

it('sends half of the scattered light beyond its width', () => {
  expect(shareBeyond(0.7, 0.7)).toBeCloseTo(0.5, 12)
})

it('sees an edge half covered, a wide field wholly, and nothing far off', () => {
  const field = { x0: -1000, x1: 0, y0: -1000, y1: 1000 }
  const cell = (x: number) => ({ x0: x - 0.1, x1: x + 0.1, y0: -0.1, y1: 0.1 })
  expect(scatteredBlack(cell(0), [field], 0.5)).toBeCloseTo(0.5, 6)
  expect(scatteredBlack(cell(-100), [field], 0.5)).toBeCloseTo(1, 6)
  expect(scatteredBlack(cell(100), [field], 0.5)).toBeCloseTo(0, 6)
})

it('covers a cell less, the wider the light is scattered from a patch of 2 by 3 mm', () => {
  const patch = { x0: 0, x1: 2, y0: 0, y1: 3 }
  const middle = { x0: 0.9, x1: 1.1, y0: 1, y1: 2 }
  const seen = [0.2, 0.5, 1, 2].map((width) => scatteredBlack(middle, [patch], width))
  expect(seen.toSorted((a, b) => b - a)).toEqual(seen)
})
