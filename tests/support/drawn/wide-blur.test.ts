import { expect, it } from 'vitest'
import type { PlaneMap } from './camera.js'
import { wideShares } from './wide-blur.js'

/** A tenth of a millimetre a pixel, turned by 90 degrees. */
const map: PlaneMap = {
  toPlane: (column, row, out) => out.set([row / 10, column / 10]),
  toPixel: (x, y) => ({ column: 10 * y, row: 10 * x }),
}

it('blurs rectangles as the product of two normal distributions', () => {
  const rects = [
    { x0: 4, x1: 6, y0: 4, y1: 6 },
    { x0: 6, x1: 7, y0: 1, y1: 9 },
  ]
  const layer = wideShares({ column0: 10, row0: 20, width: 80, height: 60 }, map, rects, 1)
  const at = (xMm: number, yMm: number): number | undefined => layer.data[(10 * xMm - 20) * 80 + 10 * yMm - 10]
  // NIST/SEMATECH e-Handbook 1.3.6.7.1: P(z < 1) = 0.84134, P(z < 2) = 0.97725, P(z < 4) = 0.99997.
  // Linear between nodes a sixth, then a quarter of a deviation apart: up to 1/288 + 1/128 of the curvature, 0.4 at most.
  expect(Math.abs((at(5, 5) as number) - (0.68269 ** 2 + (0.97725 - 0.84134) * 0.99994))).toBeLessThan(0.005)
  expect(Math.abs((at(6, 3) as number) - (0.47725 * (0.99865 - 0.84134) + 0.34134 * 0.97725))).toBeLessThan(0.005)
})
