import { describe, expect, it } from 'vitest'
import { lastInside, intervalsAtMostZero } from '../../../analysis/statistics/sign-intervals.js'

describe('intervalsAtMostZero', () => {
  it('finds every piece between the roots of a polynomial', () => {
    // (x + 3)(x + 1)(x - 1)(x - 4): at most zero on [-3, -1] and [1, 4].
    const f = (x: number) => (x + 3) * (x + 1) * (x - 1) * (x - 4)
    const pieces = intervalsAtMostZero(f, -10, 10)
    const expected = [
      [-3, -1],
      [1, 4],
    ]
    expect(pieces).toHaveLength(2)
    // To the last bit, at which f itself still rounds.
    pieces.forEach((piece, i) => piece.forEach((end, j) => expect(end).toBeCloseTo(expected[i]![j]!, 12)))
    for (const end of pieces.flat()) expect(f(end)).toBeLessThanOrEqual(0)
  })

  it('keeps pieces that touch the ends, and ends exactly there', () => {
    expect(intervalsAtMostZero((x) => Math.abs(x) - 1, -0.5, 0.7)).toEqual([[-0.5, 0.7]])
    expect(intervalsAtMostZero((x) => 1 - x * x, -3, 3)).toEqual([
      [-3, -1],
      [1, 3],
    ])
    expect(intervalsAtMostZero(() => 1, -3, 3)).toEqual([])
  })

  it('sees a piece narrower than its steps when told where to look', () => {
    const narrow = (x: number) => Math.abs(x - 0.1234567) - 1e-9
    expect(intervalsAtMostZero(narrow, 0, 1)).toEqual([])
    const [piece] = intervalsAtMostZero(narrow, 0, 1, { landmarks: [0.1234567] })
    expect(piece![1] - piece![0]).toBeCloseTo(2e-9, 15)
  })
})

describe('lastInside', () => {
  it('closes in from either side', () => {
    expect(lastInside((x) => x - 0.3, 0, 1)).toBeCloseTo(0.3, 15)
    expect(lastInside((x) => 0.3 - x, 1, 0)).toBeCloseTo(0.3, 15)
  })

  it('finds the roots of flat, steep and broken functions, itself at or below zero', () => {
    const cases: [(x: number) => number, number, number, number][] = [
      [(x) => (x - 0.7) ** 9, 0, 1, 0.7],
      [(x) => Math.exp(40 * x) - Math.exp(8), -1, 1, 0.2],
      [(x) => (x < 0.25 ? -1 : 1), 0, 1, 0.25],
      [(x) => (x < 0.6 ? -Infinity : x - 0.625), 0, 1, 0.625],
      [(x) => Math.sqrt(0.5 - x) * -1, 0, 1, 0.5],
    ]
    for (const [f, inside, outside, root] of cases) {
      const found = lastInside(f, inside, outside)
      expect(f(found)).toBeLessThanOrEqual(0)
      expect(found).toBeCloseTo(root, 12)
    }
  })

  it('takes a quarter of the calls that halving takes', () => {
    let calls = 0
    const counted = (x: number) => (calls++, Math.exp(x) - 2)
    expect(lastInside(counted, 0, 3)).toBeCloseTo(Math.LN2, 15)
    expect(calls).toBeLessThan(13)
  })
})
