import type { ToPx } from '../coupon/plane-map.js'
import type { Photo } from '../image/decode.js'
import { lightAt, type LightField } from '../image/light-field.js'
import { mapRegion, rowsOf, type RegionMap, type RegionMm } from '../image/region.js'
import type { Estimate } from '../statistics/estimate.js'

/** A patch is read clear of its border: lens and layer lines blur it, and it may lie a little off its place. */
const inside = ({ x0, y0, x1, y1 }: RegionMm): RegionMm => ({ x0: x0 + 0.5, x1: x1 - 0.5, y0: y0 + 0.6, y1: y1 - 0.6 })
/** Neighbouring pixels of a JPEG share their noise: about this many count as one. Common practice, no source. */
const PIXELS_ALIKE = 4

/**
 * Mean red, green and blue over a region, in linear light; NaN for a region without a pixel.
 *
 * @param table light of each code value
 */
export function channelLight(
  photo: Photo,
  table: Float32Array,
  toPx: ToPx,
  region: RegionMm,
): readonly [number, number, number] {
  let [red, green, blue, n] = [0, 0, 0, 0]
  const { count, runs } = rowsOf(mapRegion(toPx, region), region, photo)
  for (let k = 0; k < count; k++) {
    const rowAt = runs[3 * k]! * photo.width
    const first = runs[3 * k + 1]!
    const last = runs[3 * k + 2]!
    for (let i = 3 * (rowAt + first); i <= 3 * (rowAt + last); i += 3) {
      red += table[photo.rgb[i]!]!
      green += table[photo.rgb[i + 1]!]!
      blue += table[photo.rgb[i + 2]!]!
    }
    n += last - first + 1
  }
  return [red / n, green / n, blue / n]
}

/** Mean light of a region that `map` covers. */
export function meanLight(light: LightField, map: RegionMap, region: RegionMm): Estimate {
  let [sum, squares, n] = [0, 0, 0]
  const { count, runs } = rowsOf(map, region, light.photo)
  for (let k = 0; k < count; k++) {
    const row = runs[3 * k]!
    const first = runs[3 * k + 1]!
    const last = runs[3 * k + 2]!
    let rowSum = 0
    let rowSquares = 0
    for (let column = first; column <= last; column++) {
      const value = lightAt(light, column, row)
      rowSum += value
      rowSquares += value * value
    }
    sum += rowSum
    squares += rowSquares
    n += last - first + 1
  }
  const value = sum / n
  const variance = Math.max(0, squares / n - value * value)
  return { value, standardUncertainty: Math.sqrt((variance * PIXELS_ALIKE) / Math.max(1, n)) }
}

/** Mean light of a patch. */
export const patchLight = (light: LightField, toPx: ToPx, patch: RegionMm): number =>
  meanLight(light, mapRegion(toPx, inside(patch)), inside(patch)).value
