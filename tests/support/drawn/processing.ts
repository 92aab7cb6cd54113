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

/** Gaussian blur of a plane, edges repeated. */
function blurred(plane: Float32Array, width: number, height: number, sigmaPx: number): Float32Array {
  const reach = Math.ceil(4 * sigmaPx)
  const kernel = Float32Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigmaPx ** 2)),
  )
  const total = kernel.reduce((sum, k) => sum + k, 0)
  kernel.forEach((k, i) => (kernel[i] = k / total))
  const across = new Float32Array(plane.length)
  for (let row = 0; row < height; row++) {
    const start = row * width
    for (let column = 0; column < width; column++) {
      let sum = 0
      const safe = column >= reach && column < width - reach
      for (let k = 0; k <= 2 * reach; k++) {
        const at = column + k - reach
        sum += (kernel[k] as number) * (plane[start + (safe ? at : Math.min(Math.max(at, 0), width - 1))] as number)
      }
      across[start + column] = sum
    }
  }
  const both = new Float32Array(plane.length)
  for (let row = 0; row < height; row++)
    for (let k = 0; k <= 2 * reach; k++) {
      const from = Math.min(Math.max(row + k - reach, 0), height - 1) * width
      const weight = kernel[k] as number
      for (let column = 0; column < width; column++) {
        const i = row * width + column
        both[i] = (both[i] as number) + weight * (across[from + column] as number)
      }
    }
  return both
}

/** Bilateral mean: nearby pixels of like luma; the three colours move together. */
function denoise({ planes, width, height, ...rest }: Scene, radiusPx: number, range: number): void {
  const luma = lumaOf({ planes, width, height, ...rest })
  const reach = Math.ceil(2 * radiusPx)
  const sources = planes.map((plane) => plane.slice())
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const here = row * width + column
      const sums = [0, 0, 0]
      let total = 0
      for (let r = Math.max(0, row - reach); r <= Math.min(height - 1, row + reach); r++)
        for (let c = Math.max(0, column - reach); c <= Math.min(width - 1, column + reach); c++) {
          const i = r * width + c
          const difference = ((luma[i] as number) - (luma[here] as number)) / range
          const distance2 = ((r - row) ** 2 + (c - column) ** 2) / radiusPx ** 2
          const weight = Math.exp(-(difference * difference + distance2) / 2)
          total += weight
          for (let channel = 0; channel < 3; channel++)
            sums[channel] = (sums[channel] as number) + weight * (sources[channel]?.[i] as number)
        }
      planes.forEach((plane, channel) => (plane[here] = (sums[channel] as number) / total))
    }
}

/** Adds a multiple of what a blur takes away from luma. */
function sharpen(scene: Scene, amount: number, radiusPx: number): void {
  const luma = lumaOf(scene)
  const soft = blurred(luma, scene.width, scene.height, radiusPx)
  for (const plane of scene.planes)
    for (let i = 0; i < plane.length; i++)
      plane[i] = (plane[i] as number) + amount * ((luma[i] as number) - (soft[i] as number))
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
