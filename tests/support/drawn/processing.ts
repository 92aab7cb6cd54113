import type { ProcessingOptions } from './options.js'
import type { Scene } from './scene.js'

const LUMA = [0.299, 0.587, 0.114] as const

/** IEC 61966-2-1. */
export function encodeSrgb(x: number): number {
  return x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055
}

const TONE_STEPS = 1 << 14

/** The camera's tone curve over the clipped linear signal, 0 to 1, linear between table entries. */
function toneTable({ gamma = 1, sCurve = 0 }: ProcessingOptions): Float32Array {
  return Float32Array.from({ length: TONE_STEPS + 2 }, (_, i) => {
    const v = encodeSrgb(Math.min(1, i / TONE_STEPS)) ** gamma
    return Math.min(1, Math.max(0, v + 2 * sCurve * v * (1 - v) * (2 * v - 1)))
  })
}

function lumaOf({ planes: [red, green, blue] }: Scene): Float32Array {
  const luma = new Float32Array(red.length)
  for (let i = 0; i < luma.length; i++)
    luma[i] = LUMA[0] * (red[i] as number) + LUMA[1] * (green[i] as number) + LUMA[2] * (blue[i] as number)
  return luma
}

/** Weights of a Gaussian blur from its middle outwards, to four standard deviations. */
function halfKernel(sigmaPx: number): Float64Array {
  const half = Float64Array.from({ length: Math.ceil(4 * sigmaPx) + 1 }, (_, i) =>
    Math.exp(-(i ** 2) / (2 * sigmaPx ** 2)),
  )
  const total = 2 * half.reduce((sum, weight) => sum + weight, 0) - (half[0] as number)
  return half.map((weight) => weight / total)
}

/** Calls back with each row of a plane under a Gaussian blur, edges repeated; rows are blurred across as they are needed. */
function blurRows(
  plane: Float32Array,
  width: number,
  height: number,
  sigmaPx: number,
  take: (row: number, soft: Float32Array) => void,
): void {
  const kernel = halfKernel(sigmaPx)
  const reach = kernel.length - 1
  const padded = new Float32Array(width + 2 * reach)
  const across = (row: number, out: Float32Array): Float32Array => {
    const values = plane.subarray(row * width, (row + 1) * width)
    padded.fill(values[0] as number, 0, reach)
    padded.set(values, reach)
    padded.fill(values[width - 1] as number, reach + width)
    const middle = kernel[0] as number
    for (let column = 0; column < width; column++) out[column] = middle * (values[column] as number)
    for (let k = 1; k <= reach; k++) {
      const weight = kernel[k] as number
      for (let column = 0, left = reach - k, right = reach + k; column < width; column++, left++, right++)
        out[column] = (out[column] as number) + weight * ((padded[left] as number) + (padded[right] as number))
    }
    return out
  }
  const inside = (row: number): number => Math.min(Math.max(row, 0), height - 1)
  const ring = Array.from({ length: 2 * reach + 1 }, () => new Float32Array(width))
  const ringRow = (row: number): Float32Array => ring[inside(row) % ring.length] as Float32Array
  for (let row = 0; row < Math.min(reach, height); row++) across(row, ringRow(row))
  const soft = new Float32Array(width)
  for (let row = 0; row < height; row++) {
    if (row + reach < height) across(row + reach, ringRow(row + reach))
    const own = ringRow(row)
    for (let column = 0; column < width; column++) soft[column] = (kernel[0] as number) * (own[column] as number)
    for (let k = 1; k <= reach; k++) {
      const weight = kernel[k] as number
      const above = ringRow(row - k)
      const below = ringRow(row + k)
      for (let column = 0; column < width; column++)
        soft[column] = (soft[column] as number) + weight * ((above[column] as number) + (below[column] as number))
    }
    take(row, soft)
  }
}

/** Bilateral mean: nearby pixels of like luma; the three colours move together. */
function denoise({ planes, width, height, ...rest }: Scene, radiusPx: number, range: number): void {
  const luma = lumaOf({ planes, width, height, ...rest })
  const reach = Math.ceil(2 * radiusPx)
  const across = 2 * reach + 1
  const distance2 = Float64Array.from(
    { length: across * across },
    (_, k) => ((Math.floor(k / across) - reach) ** 2 + ((k % across) - reach) ** 2) / radiusPx ** 2,
  )
  const [reds, greens, blues] = planes.map((plane) => plane.slice()) as [Float32Array, Float32Array, Float32Array]
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const here = row * width + column
      const own = luma[here] as number
      const [left, right] = [Math.max(0, column - reach), Math.min(width - 1, column + reach)]
      let [red, green, blue, total] = [0, 0, 0, 0]
      for (let r = Math.max(0, row - reach); r <= Math.min(height - 1, row + reach); r++) {
        let k = (r - row + reach) * across + left - column + reach
        for (let i = r * width + left, end = r * width + right; i <= end; i++, k++) {
          const difference = ((luma[i] as number) - own) / range
          const weight = Math.exp(-(difference * difference + (distance2[k] as number)) / 2)
          total += weight
          red += weight * (reds[i] as number)
          green += weight * (greens[i] as number)
          blue += weight * (blues[i] as number)
        }
      }
      planes[0][here] = red / total
      planes[1][here] = green / total
      planes[2][here] = blue / total
    }
}

/** Adds a multiple of what a blur takes away from luma. */
function sharpen(scene: Scene, amount: number, radiusPx: number): void {
  const { width, height, planes } = scene
  const luma = lumaOf(scene)
  blurRows(luma, width, height, radiusPx, (row, soft) => {
    for (const plane of planes)
      for (let column = 0, i = row * width; column < width; column++, i++)
        plane[i] = (plane[i] as number) + amount * ((luma[i] as number) - (soft[column] as number))
  })
}

/** Tone curve, denoising, sharpening, 8 bits: signals to RGB bytes, row by row. Uses up the scene's planes. */
export function develop(scene: Scene, options: ProcessingOptions): Uint8Array {
  const table = toneTable(options)
  for (const plane of scene.planes)
    for (let i = 0; i < plane.length; i++) {
      const place = Math.min(Math.max(plane[i] as number, 0), 1) * TONE_STEPS
      const step = Math.trunc(place)
      const low = table[step] as number
      plane[i] = low + ((table[step + 1] as number) - low) * (place - step)
    }
  if (options.denoise) denoise(scene, options.denoise.radiusPx, options.denoise.range)
  if (options.sharpen) sharpen(scene, options.sharpen.amount, options.sharpen.radiusPx)
  const rgb = new Uint8ClampedArray(scene.width * scene.height * 3)
  scene.planes.forEach((plane, channel) => {
    for (let i = 0, at = channel; i < plane.length; i++, at += 3) rgb[at] = (plane[i] as number) * 255
  })
  return new Uint8Array(rgb.buffer)
}
