import { expect, it } from 'vitest'
import { DEFAULT_SENSOR, type Rgb, type SensorOptions } from './options.js'
import { seededNormal } from './random.js'
import { createScene, type Scene } from './scene.js'
import { expose } from './sensor.js'

const size = { width: 320, height: 240 }

function flat(colour: Rgb, sensor: Partial<SensorOptions>, vignetting = 0): Scene {
  const scene = createScene(size, colour)
  const K = [
    [1, 0, 159.5],
    [0, 1, 119.5],
    [0, 0, 1],
  ] as const
  const optics = { vignetting, lightGradient: [0, 0] } as const
  expose(scene, { K, halfDiagonalPx: 200 }, optics, { ...DEFAULT_SENSOR, ...sensor }, 3)
  return scene
}

const moments = (values: ArrayLike<number>): { mean: number; variance: number } => {
  const all = Array.from(values)
  const mean = all.reduce((a, b) => a + b, 0) / all.length
  return { mean, variance: all.reduce((sum, v) => sum + (v - mean) ** 2, 0) / all.length }
}

it('draws normal numbers: mean 0, variance 1, fourth moment 3', () => {
  const normal = seededNormal(5)
  const n = 400_000
  const values = Float64Array.from({ length: n }, normal)
  const { mean, variance } = moments(values)
  const fourth = values.reduce((sum, v) => sum + v ** 4, 0) / n
  // Standard errors 1 / sqrt(n), sqrt(2 / n), sqrt(96 / n); three times each, and 0.03 for the tails cut at 3.8.
  expect(Math.abs(mean)).toBeLessThan(3 / Math.sqrt(n))
  expect(Math.abs(variance - 1)).toBeLessThan(3 * Math.sqrt(2 / n) + 0.001)
  expect(Math.abs(fourth - 3)).toBeLessThan(3 * Math.sqrt(96 / n) + 0.03)
})

it('adds the variance of photons and of reading', () => {
  const scene = flat([0.4, 0.4, 0.4], { exposure: 0.5, fullWellE: 5000, readNoiseE: 10 })
  const { mean, variance } = moments(scene.planes[1])
  expect(mean).toBeCloseTo(0.2, 4)
  // Poisson: 0.2 x 5000 electrons have that variance; 10^2 of reading. 76,800 values know it to 0.5 %.
  expect(Math.abs((variance * 5000 ** 2) / (1000 + 100) - 1)).toBeLessThan(0.02)
})

it('exposes by gain and white balance, and loses light towards the corners', () => {
  const scene = flat([0.5, 0.5, 0.5], { exposure: 0.8, whiteBalance: [1.1, 1, 0.9], fullWellE: Infinity }, 0.2)
  const at = (plane: Float32Array | undefined, column: number, row: number): number | undefined =>
    plane?.[row * size.width + column]
  scene.planes.forEach((plane, channel) =>
    expect(at(plane, 160, 120)).toBeCloseTo(0.4 * ([1.1, 1, 0.9][channel] as number), 4),
  )
  // The corner's centre is half a pixel short of the half-diagonal.
  expect(at(scene.planes[1], 0, 0)).toBeCloseTo(0.4 * 0.8, 2)
})

it('keeps an even colour through the mosaic', () => {
  const scene = flat([0.6, 0.4, 0.2], { exposure: 1, bayer: true, fullWellE: Infinity })
  for (const [channel, level] of [0.6, 0.4, 0.2].entries())
    for (const value of scene.planes[channel] ?? []) expect(value).toBeCloseTo(level, 6)
})

it('makes the noise of neighbours alike through the mosaic, and smaller where colours were missing', () => {
  const plain = moments(flat([0.5, 0.5, 0.5], {}).planes[0])
  const mosaic = moments(flat([0.5, 0.5, 0.5], { bayer: true }).planes[0])
  // A quarter of the reds is measured, half is a mean of two, a quarter of four: (1 + 2/2 + 1/4) / 4 of the variance.
  expect(mosaic.variance / plain.variance).toBeCloseTo(0.5625, 1)
})
