import { expect, it } from 'vitest'
import { unsharpened } from '../../../analysis/image/unsharpen.js'

const [WIDTH, HEIGHT] = [90, 60]
/** Bars along both axes with blurred edges, code values between 60 and 190, so that no overshoot is clipped. */
const scene = Float64Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
  const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)]
  return 125 + 65 * Math.tanh(2 * Math.sin(x / 2)) * Math.tanh(Math.sin(y / 5))
})

/** An unsharp mask written out in two dimensions, the frame's edges going on. */
function sharpened(values: Float64Array, amount: number, radius: number): Float64Array {
  const reach = Math.ceil(4 * radius)
  const value = (x: number, y: number) =>
    values[Math.min(HEIGHT - 1, Math.max(0, y)) * WIDTH + Math.min(WIDTH - 1, Math.max(0, x))]!
  return values.map((own, i) => {
    let [sum, total] = [0, 0]
    for (let dy = -reach; dy <= reach; dy++)
      for (let dx = -reach; dx <= reach; dx++) {
        const weight = Math.exp((-0.5 * (dx * dx + dy * dy)) / radius ** 2)
        total += weight
        sum += weight * value((i % WIDTH) + dx, Math.floor(i / WIDTH) + dy)
      }
    return own + amount * (own - sum / total)
  })
}
const photoOf = (values: Float64Array) => ({
  width: WIDTH,
  height: HEIGHT,
  rgb: Uint8Array.from({ length: 3 * WIDTH * HEIGHT }, (_, k) => Math.round(values[Math.floor(k / 3)]!)),
})
const table = new Float32Array(1021)
const box = { left: -5, right: 60, top: 0, bottom: HEIGHT + 3 }

it.each([
  [0.45, 1.17],
  [0.6, 1.1],
  [1.2, 2.5],
])('gives back what a mask of %d and %d px was laid over, to rounding', (amount, radiusPx) => {
  const sharp = photoOf(sharpened(scene, amount, radiusPx))
  const { photo, sharpening } = unsharpened({ photo: sharp, table, sharpening: { amount, radiusPx } }, [box])
  expect(sharpening).toBeUndefined()
  let [worst, worstBefore] = [0, 0]
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < 50; x++) {
      const k = 3 * (y * WIDTH + x)
      worst = Math.max(worst, Math.abs(photo.rgb[k]! - scene[y * WIDTH + x]!))
      worstBefore = Math.max(worstBefore, Math.abs(sharp.rgb[k]! - scene[y * WIDTH + x]!))
    }
  expect(worstBefore).toBeGreaterThan(5)
  // Rounded twice, half a code value each; the inverse of a mask averages and so does not raise it.
  expect(worst).toBeLessThan(1.2)
})

it('holds its boxes alone, and leaves alone a photograph that was not sharpened', () => {
  const sharp = photoOf(sharpened(scene, 0.6, 1.1))
  const { photo } = unsharpened({ photo: sharp, table, sharpening: { amount: 0.6, radiusPx: 1.1 } }, [box])
  expect(photo.rgb.subarray(3 * 61, 3 * WIDTH).some((code) => code > 0)).toBe(false)
  const plain = { photo: sharp, table }
  expect(unsharpened(plain, [box])).toBe(plain)
})

it('keeps nothing of the boxes of the photograph before', () => {
  const light = { photo: photoOf(sharpened(scene, 0.6, 1.1)), table, sharpening: { amount: 0.6, radiusPx: 1.1 } }
  unsharpened(light, [box])
  const far = { ...box, left: box.left + 55, right: box.right + 55 }
  const { photo } = unsharpened(light, [far])
  const firstRow = photo.rgb.subarray(0, 3 * WIDTH)
  expect(firstRow.subarray(0, 3 * far.left).some((code) => code > 0)).toBe(false)
  expect(firstRow.subarray(3 * far.left).some((code) => code > 0)).toBe(true)
})
