import type { LightField } from '../image/light-field.js'
import { lumaIndex, LUMA_STEPS } from '../image/linear-light.js'
import { mapRegion, rowsOf, type RegionMm } from '../image/region.js'
import { removeSharpening, type Sharpening } from '../image/sharpening.js'

/** Light along one direction of a region, averaged over the other. */
export interface EdgeProfile {
  /** Shape (n), mm, mean position of the pixels in each bin, ascending. */
  readonly positionMm: Float64Array
  /** Shape (n), mean light, in units of `paperLight`. */
  readonly light: Float64Array
  /** Shape (n), pixels averaged. */
  readonly count: Float64Array
  readonly mmPerPx: number
  /** The region's extent along the profile. */
  readonly fromMm: number
  readonly toMm: number
}

/** Bins half a pixel wide: fine against a blur of more than a pixel, wide enough to be filled over a few rows. */
const BINS_PER_PX = 2

/**
 * Projects the pixels of a region onto one of its axes.
 *
 * Every pixel is used once, at its own place: nothing is resampled, so no interpolation blurs or moves an edge.
 *
 * @param toPx millimetres of the region's plane to pixels
 * @param along 'x' for a profile across upright lines, 'y' across level ones
 * @param paperLight light that counts as 1
 */
export function edgeProfile(
  light: LightField,
  toPx: (xMm: number, yMm: number) => readonly [number, number],
  region: RegionMm,
  along: 'x' | 'y',
  paperLight: number,
): EdgeProfile {
  const map = mapRegion(toPx, region)
  const from = along === 'x' ? region.x0 : region.y0
  const to = along === 'x' ? region.x1 : region.y1
  const bins = Math.max(1, Math.ceil(((to - from) / map.mmPerPx) * BINS_PER_PX))
  const perMm = bins / (to - from)
  const { table, photo, sharpening } = light
  // Sharpening acts on code values: they are averaged as they are, freed of it, and turned into light only then.
  const values = sharpening ? LUMA_CODES : table
  const sum = new Float64Array(bins)
  const place = new Float64Array(bins)
  const count = new Float64Array(bins)
  const { rgb, width } = photo
  const rows = rowsOf(map, region, photo)
  for (let k = 0; k < rows.count; k++) {
    const axis = 6 * k + (along === 'x' ? 0 : 3)
    const place0 = rows.mm[axis]!
    const place1 = rows.mm[axis + 1]!
    const place2 = rows.mm[axis + 2]!
    const first = rows.runs[3 * k + 1]!
    const last = rows.runs[3 * k + 2]!
    for (let column = first, i = 3 * (rows.runs[3 * k]! * width + first); column <= last; column++, i += 3) {
      const at = place0 + column * (place1 + column * place2)
      const bin = Math.min(bins - 1, ((at - from) * perMm) | 0)
      sum[bin]! += values[lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)]!
      place[bin]! += at
      count[bin]! += 1
    }
  }
  // Where lines follow the pixels' columns, most bins stay empty: drop them, in place.
  let n = 0
  for (let bin = 0; bin < bins; bin++) {
    const pixels = count[bin]!
    if (pixels === 0) continue
    place[n] = place[bin]! / pixels
    sum[n] = sum[bin]! / pixels
    count[n] = pixels
    n++
  }
  const profile = {
    positionMm: place.subarray(0, n),
    light: sum.subarray(0, n),
    count: count.subarray(0, n),
    mmPerPx: map.mmPerPx,
    fromMm: from,
    toMm: to,
  }
  if (sharpening && n > 1) unsharpen(profile, sharpening, table, 1 / perMm)
  for (let i = 0; i < n; i++) profile.light[i]! /= paperLight
  return profile
}

/** A pixel's luma by `lumaIndex`, as it is. */
const LUMA_CODES = Float32Array.from({ length: LUMA_STEPS + 1 }, (_, i) => i)

/** Turns a profile of sharpened luma into the light that was there before, in place. */
function unsharpen(
  { positionMm, light, mmPerPx }: EdgeProfile,
  sharpening: Sharpening,
  table: Float32Array,
  stepMm: number,
): void {
  const from = positionMm[0] ?? 0
  const steps = Math.floor(((positionMm[positionMm.length - 1] ?? from) - from) / stepMm) + 1
  if (steps < 2) return
  const even = resampleEvenly(positionMm, light, from, stepMm, steps)
  const codes = removeSharpening(even, stepMm / mmPerPx, sharpening)
  for (let i = 0; i < light.length; i++) {
    const change = valueAt(codes, (positionMm[i]! - from) / stepMm) - valueAt(even, (positionMm[i]! - from) / stepMm)
    light[i] = valueAt(table, light[i]! + change)
  }
}

/**
 * Values of a profile at even steps, linear in between: where lines follow the pixels' columns most bins are missing.
 *
 * @param positionMm shape (n), ascending
 * @returns shape (length)
 */
export function resampleEvenly(
  positionMm: Float64Array,
  values: Float64Array,
  fromMm: number,
  stepMm: number,
  length: number,
): Float64Array {
  const even = new Float64Array(length)
  for (let k = 0, i = 0; k < length; k++) {
    const x = fromMm + k * stepMm
    while (i < positionMm.length - 2 && positionMm[i + 1]! < x) i++
    const left = positionMm[i]!
    const t = Math.min(1, Math.max(0, (x - left) / (positionMm[i + 1]! - left)))
    even[k] = values[i]! + t * (values[i + 1]! - values[i]!)
  }
  return even
}

/** Linear between entries, the ends going on. */
function valueAt(values: Float32Array | Float64Array, place: number): number {
  const inside = Math.min(values.length - 1, Math.max(0, place))
  const i = Math.min(values.length - 2, Math.floor(inside))
  return values[i]! + (inside - i) * (values[i + 1]! - values[i]!)
}
