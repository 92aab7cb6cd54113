import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import { labelBoxesMm } from '../../../analysis/layout/label.js'
import { ladderLayout } from '../../../analysis/layout/ladder-layout.js'
import { designs } from '../../support/designs.js'

/** Cells covered by the boxes, as `column,row` from the lower left. */
function cells(text: string): string[] {
  return labelBoxesMm(text, { y0Mm: 0, z0Mm: 0, cellMm: 1 }).flatMap(({ y0, y1, z0, z1 }) =>
    Array.from({ length: y1 - y0 }, (_, i) => y0 + i).flatMap((y) =>
      Array.from({ length: z1 - z0 }, (_, i) => `${y},${z0 + i}`),
    ),
  )
}

const numbers = fc.string({ unit: fc.constantFrom(...'0123456789.'), minLength: 1, maxLength: 8 })

it('raises no cell twice, and none that touches another at an edge only', () => {
  fc.assert(
    fc.property(numbers, (text) => {
      const all = cells(text)
      const raised = new Set(all)
      expect(raised.size).toBe(all.length)
      // Two solids that share an edge only are no manifold. Of four cells around a corner never just two opposite ones.
      const has = (y: number, z: number) => raised.has(`${y},${z}`)
      const pinched = []
      for (let y = -1; y < 4 * text.length; y++)
        for (let z = -1; z < 5; z++) {
          const [a, b, c, d] = [has(y, z), has(y + 1, z), has(y, z + 1), has(y + 1, z + 1)]
          if (a === d && b === c && a !== b) pinched.push([y, z])
        }
      expect(pinched).toEqual([])
    }),
  )
})

it('gives each digit a look of its own', () => {
  const looks = [...'0123456789'].map((digit) => cells(digit).sort().join(' '))
  expect(new Set(looks).size).toBe(10)
})

it('stays on the leg, for every rung with an exposure of up to four digits', () => {
  fc.assert(
    fc.property(designs, (design) => {
      const { coupon, labels } = ladderLayout(design)
      const boxes = labels.flatMap(({ boxesMm }) => boxesMm)
      expect(Math.min(...boxes.flatMap(({ y0, z0 }) => [y0, z0]))).toBeGreaterThan(0)
      expect(Math.max(...boxes.map(({ y1 }) => y1))).toBeLessThan(coupon.sizeMm.y)
      expect(Math.max(...boxes.map(({ z1 }) => z1))).toBeLessThan(coupon.faceZMm)
    }),
  )
})

it('refuses what it has no shape for', () => {
  expect(() => labelBoxesMm('1e-7', { y0Mm: 0, z0Mm: 0, cellMm: 1 })).toThrow(
    new RangeError('labelBoxesMm needs digits and points, got "e"'),
  )
})
