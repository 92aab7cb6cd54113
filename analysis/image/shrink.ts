import type { Photo } from './decode.js'

/** A grey picture, 8 bit. Pixel (column, row) covers the photo's pixels from factor * column to factor * (column + 1). */
export interface GreyPicture {
  readonly width: number
  readonly height: number
  readonly grey: Uint8Array
  /** How many photo pixels one of its edges spans. */
  readonly factor: number
}

/**
 * The green channel shrunk by averaging two by two samples of each block: for finding things, not for measuring.
 *
 * @param factor whole number, 2 or more
 */
export function shrinkGreen({ width, height, rgb }: Photo, factor: number): GreyPicture {
  const w = Math.floor(width / factor)
  const h = Math.floor(height / factor)
  const grey = new Uint8Array(w * h)
  const quarter = Math.floor(factor / 4)
  const second = Math.floor(factor / 2)
  for (let y = 0; y < h; y++) {
    const upper = (y * factor + quarter) * width
    const lower = (y * factor + quarter + second) * width
    for (let x = 0; x < w; x++) {
      const left = x * factor + quarter
      const right = left + second
      const sum =
        rgb[3 * (upper + left) + 1]! +
        rgb[3 * (upper + right) + 1]! +
        rgb[3 * (lower + left) + 1]! +
        rgb[3 * (lower + right) + 1]!
      grey[y * w + x] = sum >> 2
    }
  }
  return { width: w, height: h, grey, factor }
}

/** Photo pixel at the centre of a shrunk picture's pixel. */
export const toPhotoPx = (coordinate: number, factor: number): number => (coordinate + 0.5) * factor - 0.5
