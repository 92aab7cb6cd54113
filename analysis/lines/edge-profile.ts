import type { LightField } from '../image/light-field.js'
import { lumaIndex } from '../image/linear-light.js'
import { mapRegion, visitRows, type RegionMm } from '../image/region.js'

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
  const sum = new Float64Array(bins)
  const place = new Float64Array(bins)
  const count = new Float64Array(bins)
  const { table, photo } = light
  const { rgb, width } = photo
  visitRows(map, region, photo, (row, first, last, x, y) => {
    const place0 = (along === 'x' ? x : y)[0]!
    const place1 = (along === 'x' ? x : y)[1]!
    const place2 = (along === 'x' ? x : y)[2]!
    for (let column = first, i = 3 * (row * width + first); column <= last; column++, i += 3) {
      const at = place0 + column * (place1 + column * place2)
      const bin = Math.min(bins - 1, ((at - from) * perMm) | 0)
      sum[bin]! += table[lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)]!
      place[bin]! += at
      count[bin]! += 1
    }
  })
  // Where lines follow the pixels' columns, most bins stay empty: drop them, in place.
  let n = 0
  for (let bin = 0; bin < bins; bin++) {
    const pixels = count[bin]!
    if (pixels === 0) continue
    place[n] = place[bin]! / pixels
    sum[n] = sum[bin]! / pixels / paperLight
    count[n] = pixels
    n++
  }
  return {
    positionMm: place.subarray(0, n),
    light: sum.subarray(0, n),
    count: count.subarray(0, n),
    mmPerPx: map.mmPerPx,
    fromMm: from,
    toMm: to,
  }
}
