import { expect, it } from 'vitest'
import { disjoint } from './disjoint.js'

const covers = (rects: readonly { x0: number; y0: number; x1: number; y1: number }[], x: number, y: number): number =>
  rects.filter((r) => r.x0 < x && x < r.x1 && r.y0 < y && y < r.y1).length

it('covers each place once, and the same places', () => {
  const rects = [
    { x0: 0, y0: 0, x1: 4, y1: 2 },
    { x0: 3, y0: 1, x1: 5, y1: 5 },
    { x0: 1, y0: 1, x1: 2, y1: 6 },
    { x0: 1, y0: 4, x1: 5, y1: 5 },
    { x0: 8, y0: 0, x1: 9, y1: 1 },
  ]
  const pieces = disjoint(rects)
  for (let x = 0.25; x < 10; x += 0.5)
    for (let y = 0.25; y < 7; y += 0.5) expect(covers(pieces, x, y)).toBe(Math.min(1, covers(rects, x, y)))
})

it('leaves rectangles that only touch, and drops empty ones', () => {
  const rects = [
    { x0: 0, y0: 0, x1: 1, y1: 1 },
    { x0: 1, y0: 0, x1: 2, y1: 1 },
  ]
  expect(disjoint([...rects, { x0: 5, y0: 0, x1: 5, y1: 1 }])).toEqual(rects)
})
