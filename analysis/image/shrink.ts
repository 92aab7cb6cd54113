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
 * @param factor whole number; 1 takes the channel as it is
 */
export function shrinkGreen({ width, height, rgb }: Photo, factor: number): GreyPicture {
  const w = Math.floor(width / factor)
  const h = Math.floor(height / factor)
  const grey = new Uint8Array(w * h)
  const quarter = Math.floor(factor / 4)
  const right = 3 * Math.floor(factor / 2)
  const lower = width * right
  for (let y = 0, to = 0; y < h; y++) {
    let from = 3 * ((y * factor + quarter) * width + quarter) + 1
    for (let x = 0; x < w; x++, from += 3 * factor)
      grey[to++] = (rgb[from]! + rgb[from + right]! + rgb[from + lower]! + rgb[from + lower + right]!) >> 2
  }
  return { width: w, height: h, grey, factor }
}

/** A shrunk picture shrunk once more by half, each pixel the mean of four. */
export function halve({ width, height, grey, factor }: GreyPicture): GreyPicture {
  const w = width >> 1
  const h = height >> 1
  const half = new Uint8Array(w * h)
  for (let y = 0, to = 0; y < h; y++)
    for (let x = 0, from = 2 * y * width; x < w; x++, from += 2)
      half[to++] = (grey[from]! + grey[from + 1]! + grey[from + width]! + grey[from + width + 1]!) >> 2
  return { width: w, height: h, grey: half, factor: 2 * factor }
}

/** Photo pixel at the centre of a shrunk picture's pixel. */
export const toPhotoPx = (coordinate: number, factor: number): number => (coordinate + 0.5) * factor - 0.5
