import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { removeSharpening } from '../../../analysis/image/sharpening.js'

/** An unsharp mask written out: the ends go on. */
function sharpen(values: Float64Array, amount: number, radius: number): Float64Array {
  const reach = Math.ceil(5 * radius)
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-0.5 * ((k - reach) / radius) ** 2))
  const total = weights.reduce((sum, w) => sum + w, 0)
  const at = (i: number) => values[Math.min(values.length - 1, Math.max(0, i))] ?? 0
  return values.map((value, i) => {
    const soft = weights.reduce((sum, w, k) => sum + (w / total) * at(i + k - reach), 0)
    return value + amount * (value - soft)
  })
}
const edge = Float64Array.from({ length: 240 }, (_, i) => 20 + 200 / (1 + Math.exp(-(i - 120.3) / 3)))

describe('removing an unsharp mask', () => {
  it('gives back a blurred edge to a thousandth of its step', () => {
    for (const [amount, radius] of [
      [0.3, 2],
      [1, 4],
      [1.5, 6],
    ] as const) {
      const back = removeSharpening(sharpen(edge, amount, radius), 1, { amount, radiusPx: radius })
      for (let i = 60; i < 180; i++) expect(Math.abs(back[i]! - edge[i]!)).toBeLessThan(0.25)
    }
  })

  it('takes steps finer than a pixel at their length', () => {
    const back = removeSharpening(sharpen(edge, 0.8, 5), 0.25, { amount: 0.8, radiusPx: 1.25 })
    expect(Math.abs(back[120]! - edge[120]!)).toBeLessThan(0.25)
  })

  it('raises no noise: what comes out lies within what went in', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 255, noNaN: true }), { minLength: 2, maxLength: 60 }),
        fc.double({ min: 0.05, max: 2, noNaN: true }),
        fc.double({ min: 0.5, max: 3, noNaN: true }),
        (codes, amount, radiusPx) => {
          const back = removeSharpening(Float64Array.from(codes), 0.5, { amount, radiusPx })
          const slack = 1e-9 * 255
          expect(Math.max(...back)).toBeLessThanOrEqual(Math.max(...codes) + slack)
          expect(Math.min(...back)).toBeGreaterThanOrEqual(Math.min(...codes) - slack)
        },
      ),
      { numRuns: 60 },
    )
  })
})
