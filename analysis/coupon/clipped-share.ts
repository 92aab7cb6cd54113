import type { Photo } from '../image/decode.js'
import { lumaIndex } from '../image/linear-light.js'
import { mapRegion, visitRegion, type RegionMm } from '../image/region.js'
import type { ToPx } from './plane-map.js'

/** Luma in quarters of a code value from which a pixel counts as clipped: 252 of 255. */
const CLIPPED = 252 * 4

/**
 * Share of a region's pixels that are at full scale: a mirrored lamp.
 *
 * @param toPx millimetres of the region's plane to pixels
 */
export function clippedShare(photo: Photo, toPx: ToPx, region: RegionMm): number {
  let [clipped, total] = [0, 0]
  visitRegion(mapRegion(toPx, region), region, photo, (column, row) => {
    const i = 3 * (row * photo.width + column)
    if (lumaIndex(photo.rgb[i]!, photo.rgb[i + 1]!, photo.rgb[i + 2]!) >= CLIPPED) clipped++
    total++
  })
  return clipped / Math.max(1, total)
}
