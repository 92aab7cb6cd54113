import { mapRegion, rowsOf, type RegionMm } from '../image/region.js'
import type { GreyPicture } from '../image/shrink.js'
import type { ToPx } from './plane-map.js'

/** Code value, of 255, from which a pixel counts as clipped. */
const CLIPPED = 252

/**
 * Share of a region that is at full scale in the shrunk picture: a mirrored lamp.
 *
 * @param toPx millimetres of the region's plane to pixels of the photograph
 */
export function clippedShare(shrunk: GreyPicture, toPx: ToPx, region: RegionMm): number {
  const { factor, grey, width } = shrunk
  const toShrunk: ToPx = (xMm, yMm) => {
    const [x, y] = toPx(xMm, yMm)
    return [(x + 0.5) / factor - 0.5, (y + 0.5) / factor - 0.5]
  }
  let [clipped, total] = [0, 0]
  const { count, runs } = rowsOf(mapRegion(toShrunk, region), region, shrunk)
  for (let k = 0; k < count; k++) {
    const rowAt = runs[3 * k]! * width
    const first = runs[3 * k + 1]!
    const last = runs[3 * k + 2]!
    for (let column = first; column <= last; column++) if (grey[rowAt + column]! >= CLIPPED) clipped++
    total += last - first + 1
  }
  return clipped / Math.max(1, total)
}
