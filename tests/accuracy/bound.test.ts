import { expect, it } from 'vitest'
import { edgeBound } from './bound.js'

const white = (noise: number) => () => noise ** 2

it('the bound of one edge is that of the closed form, levels and blur unknown', () => {
  // sd >= sqrt(2 sqrt(pi) s D) sn / A / sqrt(1 - 2 sqrt(pi) s / L); s = D = 1, A / sn = 50, L = 40: 0.0394442. In line with
  // Gatherer, Stanford CSL-TR-93-560 (1993), of which it is the sum written as an integral.
  const model = { edges: [20], levels: [0, 1], blur: 1, from: 0, to: 40, samplesPerLength: 1, variance: white(1 / 50) }
  expect(edgeBound(model, [1])).toBeCloseTo(0.0394442, 5)
})

it('the bound of a mean falls with the rows, and that of two edges far apart is that of one times the root of two', () => {
  const model = {
    edges: [20, 60],
    levels: [0, 1, 0],
    blur: 1,
    from: 0,
    to: 80,
    samplesPerLength: 1,
    variance: white(1 / 50),
  }
  const width = edgeBound(model, [-1, 1])
  expect(edgeBound({ ...model, samplesPerLength: 100 }, [-1, 1])).toBeCloseTo(width / 10, 6)
  // The two halves mirror each other, so that each is a window of its own and the widths of two edges add in squares.
  const single = edgeBound({ ...model, edges: [20], levels: [0, 1], to: 40 }, [1])
  expect(width / single).toBeCloseTo(Math.SQRT2, 6)
})
