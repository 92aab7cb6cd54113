import type { Photo } from './decode.js'
import { lumaIndex } from './linear-light.js'
import type { Sharpening } from './sharpening.js'

/** A photograph seen as linear light: pixels are converted where they are asked for, never the whole frame. */
export interface LightField {
  readonly photo: Photo
  /** Light for each quarter step of luma, see `lumaTable`. */
  readonly table: Float32Array
  /** What the camera's sharpening did to the code values, when that is known: profiles are freed of it. */
  readonly sharpening?: Sharpening
}

/** Light of one pixel; the caller keeps it inside the frame. */
export function lightAt({ photo: { width, rgb }, table }: LightField, column: number, row: number): number {
  const i = 3 * (row * width + column)
  return table[lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)]!
}
