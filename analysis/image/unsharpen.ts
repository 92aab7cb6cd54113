import { withGaussianMeans } from './opencv.js'
import type { LightField } from './light-field.js'
import type { Sharpening } from './sharpening.js'

/** Whole pixels, the ends included. */
export interface PixelBox {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** Share of what the mask did that may be left: under a tenth of a code value. */
const CLOSE_ENOUGH = 2e-3

/**
 * The photograph as it was before sharpening, inside some boxes.
 *
 * Undoes y = x + amount (x - Gaussian mean of x) of the luma by Chebyshev's iteration: the mask multiplies what it acts on by
 * 1 to 1 + amount, so that k steps leave 1 / cosh(k arcosh(1 + 2 / amount)). The three channels are shifted alike, as a mask
 * over luma does. Codes that were clipped are not brought back.
 *
 * @returns a light field without `sharpening` to take out that holds the boxes alone and is black elsewhere, since a copy of
 *   the frame would take longer than all else, and that until the next call; the given one where there is no sharpening
 * @see G. H. Golub, R. S. Varga, Numer. Math. 3 (1961) 147 [from memory]
 */
export function unsharpened(light: LightField, boxes: readonly PixelBox[]): LightField {
  const { photo, table, sharpening } = light
  if (!sharpening) return light
  const rgb = blackFrame(photo.rgb.length)
  const inside = boxes.map((box) => within(box, photo))
  last = { rgb, width: photo.width, boxes: inside }
  for (const box of inside) unsharpenBox({ ...photo, rgb }, photo.rgb, box, sharpening)
  return { photo: { ...photo, rgb }, table }
}

/** A thread's last result, to be used again: to touch as much fresh memory takes half as long as all else here. */
let last: { readonly rgb: Uint8Array; readonly width: number; readonly boxes: readonly PixelBox[] } | undefined

function blackFrame(length: number): Uint8Array {
  if (last?.rgb.length !== length) return new Uint8Array(length)
  const { rgb, width, boxes } = last
  for (const { left, right, top, bottom } of boxes)
    for (let row = top; row <= bottom; row++) rgb.fill(0, 3 * (row * width + left), 3 * (row * width + right + 1))
  return rgb
}

const within = ({ left, right, top, bottom }: PixelBox, { width, height }: LightField['photo']): PixelBox => ({
  left: Math.max(0, left),
  right: Math.min(width - 1, right),
  top: Math.max(0, top),
  bottom: Math.min(height - 1, bottom),
})

function unsharpenBox(
  { width, rgb }: LightField['photo'],
  from: Uint8Array,
  { left, right, top, bottom }: PixelBox,
  { amount, radiusPx }: Sharpening,
): void {
  const [columns, rows] = [right - left + 1, bottom - top + 1]
  if (columns < 1 || rows < 1) return
  const sharp = new Float32Array(columns * rows)
  for (let row = 0, i = 0; row < rows; row++)
    for (let k = 3 * ((top + row) * width + left), end = k + 3 * columns; k < end; k += 3)
      sharp[i++] = (77 * from[k]! + 150 * from[k + 1]! + 29 * from[k + 2]!) / 256
  // Middle and half width of the range of what the mask multiplies by.
  const [middle, half] = [1 + amount / 2, amount / 2]
  const steps = Math.ceil(Math.acosh(1 / CLOSE_ENOUGH) / Math.acosh(middle / half))
  const before = sharp.slice()
  const change = new Float32Array(before.length)
  let [rho, keep, gain] = [half / middle, 0, 1 / middle]
  withGaussianMeans(before, { width: columns, height: rows, sigma: radiusPx }, steps, (mean) => {
    for (let i = 0; i < before.length; i++) {
      const x = before[i]!
      const next = keep * change[i]! + gain * (sharp[i]! - x - amount * (x - mean[i]!))
      change[i] = next
      before[i] = x + next
    }
    const former = rho
    rho = 1 / ((2 * middle) / half - former)
    keep = rho * former
    gain = (2 * rho) / half
  })
  // Rounds and clips as it is written, several times as fast as by hand.
  const clamped = new Uint8ClampedArray(rgb.buffer, rgb.byteOffset, rgb.length)
  for (let row = 0, i = 0; row < rows; row++)
    for (let k = 3 * ((top + row) * width + left), end = k + 3 * columns; k < end; k += 3, i++) {
      const shift = before[i]! - sharp[i]!
      clamped[k] = from[k]! + shift
      clamped[k + 1] = from[k + 1]! + shift
      clamped[k + 2] = from[k + 2]! + shift
    }
}
