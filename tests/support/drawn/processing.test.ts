import { expect, it } from 'vitest'
import type { ProcessingOptions } from './options.js'
import { develop } from './processing.js'
import { createScene } from './scene.js'

const size = { width: 64, height: 32 }

function developed(level: (column: number) => number, options: ProcessingOptions): number[] {
  const scene = createScene(size, [0, 0, 0])
  for (const plane of scene.planes) for (let i = 0; i < plane.length; i++) plane[i] = level(i % size.width)
  const rgb = develop(scene, options)
  const row = 16 * size.width
  return Array.from({ length: size.width }, (_, column) => rgb[3 * (row + column)] as number)
}

it('encodes linear light as sRGB and clips it', () => {
  // IEC 61966-2-1: 0.2140 encodes to 0.5 (127.5), 0.0021 on the straight part to 0.0271 (6.9).
  const values = developed((c) => [0.214, 0.0021, 1.7, -0.1][c % 4] as number, {})
  expect(values.slice(0, 4)).toEqual([127, 7, 255, 0])
})

it('bends the encoded value by the S-curve and the power', () => {
  const [bent] = developed(() => 0.0513, { sCurve: 0.3 })
  // sRGB of 0.0513 is 0.2507: v + 0.6 v (1 - v)(2 v - 1) = 0.1945.
  expect(bent).toBe(Math.round(0.1945 * 255))
  const [raised] = developed(() => 0.214, { gamma: 1.15 })
  expect(raised).toBe(Math.round(0.5 ** 1.15 * 255))
})

it('sharpens a step by what the blur takes away: overshoot beside it, nothing far from it', () => {
  const step = (c: number): number => (c < 32 ? 0.1 : 0.5)
  const plain = developed(step, {})
  const sharp = developed(step, { sharpen: { amount: 1, radiusPx: 2 } })
  const height = (plain[60] as number) - (plain[3] as number)
  // Half a pixel outside the step the blur has moved by 1 - P(0.5 / 2) = 0.4013 of its height; sampled, not integrated: 0.4006.
  expect((plain[31] as number) - (sharp[31] as number)).toBeCloseTo(0.4 * height, -0.4)
  expect(sharp[3]).toBe(plain[3])
  expect(sharp[60]).toBe(plain[60])
})

it('denoises even places and leaves a step steep', () => {
  let state = 1
  const noise = (): number => ((state = (state * 16807) % 2147483647) / 2147483647 - 0.5) * 0.05
  const level = (c: number): number => (c < 32 ? 0.1 : 0.5) + noise()
  const deviation = (values: number[]): number => {
    const mean = values.reduce((a, b) => a + b) / values.length
    return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length)
  }
  const noisy = developed(level, {})
  const smooth = developed(level, { denoise: { radiusPx: 1.5, range: 0.1 } })
  expect(deviation(smooth.slice(36, 60))).toBeLessThan(0.6 * deviation(noisy.slice(36, 60)))
  expect((smooth[32] as number) - (smooth[31] as number)).toBeGreaterThan(80)
})
