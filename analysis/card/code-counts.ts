import { mapRegion, rowsOf, type RegionMm } from '../image/region.js'
import { lumaIndex, LUMA_STEPS } from '../image/linear-light.js'
import type { Photo } from '../image/decode.js'
import type { Sharpening } from '../image/sharpening.js'
import { edgeProfile } from '../lines/edge-profile.js'
import type { ToPx } from '../coupon/plane-map.js'

const CODES = 256

/** A patch as weighted counts of code values: its mean light follows at once for any tone curve. */
export interface CodeCounts {
  readonly counts: Float64Array
  readonly total: number
}

/** Hann window over a region's width, in steps far finer than a pixel: a cosine a pixel would cost as much as all else. */
const HANN_STEPS = 512
const HANN = Float64Array.from({ length: HANN_STEPS + 1 }, (_, i) => 1 - Math.cos((2 * Math.PI * i) / HANN_STEPS))

/** Codes in a region, weighted across x by a Hann window: over whole periods it leaves nothing of their phase. */
export function countPixels(photo: Photo, toPx: ToPx, region: RegionMm): CodeCounts {
  const counts = new Float64Array(CODES)
  let total = 0
  const perMm = HANN_STEPS / (region.x1 - region.x0)
  const { rgb } = photo
  const { count, runs, mm } = rowsOf(mapRegion(toPx, region), region, photo)
  for (let k = 0; k < count; k++) {
    let rowTotal = 0
    const first = runs[3 * k + 1]!
    const last = runs[3 * k + 2]!
    const at = 6 * k
    for (let column = first, i = 3 * (runs[3 * k]! * photo.width + first); column <= last; column++, i += 3) {
      const xMm = mm[at]! + column * (mm[at + 1]! + column * mm[at + 2]!)
      const weight = HANN[((xMm - region.x0) * perMm + 0.5) | 0]!
      const quarters = lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)
      // Shared between the two whole codes about it.
      const code = quarters >> 2
      const part = (quarters & 3) / 4
      counts[code]! += weight * (1 - part)
      if (part > 0) counts[code + 1]! += weight * part
      rowTotal += weight
    }
    total += rowTotal
  }
  return { counts, total }
}

/** The same for a picture whose sharpening is known: of the codes' profile across the lines, freed of it. */
export function countUnsharpened(photo: Photo, toPx: ToPx, region: RegionMm, sharpening: Sharpening): CodeCounts {
  const counts = new Float64Array(CODES + 1)
  let total = 0
  const { positionMm, light, count } = edgeProfile({ photo, table: CODE_OF_LUMA, sharpening }, toPx, region, 'x', 1)
  const perMm = HANN_STEPS / (region.x1 - region.x0)
  for (let i = 0; i < light.length; i++) {
    const weight = count[i]! * HANN[((positionMm[i]! - region.x0) * perMm + 0.5) | 0]!
    const code = Math.floor(light[i]!)
    const part = light[i]! - code
    counts[code]! += weight * (1 - part)
    counts[code + 1]! += weight * part
    total += weight
  }
  return { counts: counts.subarray(0, CODES), total }
}

const CODE_OF_LUMA = Float32Array.from({ length: LUMA_STEPS + 1 }, (_, i) => i / 4)

/** @param table light of each code value, shape (256) */
export function meanLight({ counts, total }: CodeCounts, table: Float32Array): number {
  let sum = 0
  for (let i = 0; i < counts.length; i++) sum += counts[i]! * table[i]!
  return sum / Math.max(total, 1e-9)
}
