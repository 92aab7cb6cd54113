import type { ToPx } from '../coupon/plane-map.js'
import { lightAt, type LightField } from '../image/light-field.js'
import { mapRegion, rowsOf, type RegionMap, type RegionMm } from '../image/region.js'
import type { Estimate } from '../statistics/estimate.js'

/** A patch is read clear of its border: lens and layer lines blur it, and it may lie a little off its place. */
const inside = ({ x0, y0, x1, y1 }: RegionMm): RegionMm => ({ x0: x0 + 0.5, x1: x1 - 0.5, y0: y0 + 0.6, y1: y1 - 0.6 })
/** Neighbouring pixels of a JPEG share their noise: about this many count as one. Common practice, no source. */
const PIXELS_ALIKE = { luma: 4, colour: 8 } as const

/**
 * Mean of one colour channel over a patch, in linear light.
 *
 * @param table light of each code value
 * @param channel 0 red, 1 green, 2 blue
 */
export function channelLight(
  { photo }: LightField,
  table: Float32Array,
  toPx: ToPx,
  patch: RegionMm,
  channel: 0 | 1 | 2,
): Estimate {
  const region = inside(patch)
  let [sum, squares, n] = [0, 0, 0]
  const { count, runs } = rowsOf(mapRegion(toPx, region), region, photo)
  for (let k = 0; k < count; k++) {
    const rowAt = runs[3 * k]! * photo.width
    const first = runs[3 * k + 1]!
    const last = runs[3 * k + 2]!
    for (let column = first; column <= last; column++) {
      const value = table[photo.rgb[3 * (rowAt + column) + channel]!]!
      sum += value
      squares += value * value
    }
    n += last - first + 1
  }
  const value = sum / n
  const variance = Math.max(0, squares / n - value * value)
  return { value, standardUncertainty: Math.sqrt((variance * PIXELS_ALIKE.colour) / Math.max(1, n)) }
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
  return { value, standardUncertainty: Math.sqrt((variance * PIXELS_ALIKE.luma) / Math.max(1, n)) }
}

/** Mean light of a patch. */
export const patchLight = (light: LightField, toPx: ToPx, patch: RegionMm): number =>
  meanLight(light, mapRegion(toPx, inside(patch)), inside(patch)).value
