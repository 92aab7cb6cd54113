import { mean } from 'simple-statistics'
import type { Photo } from '../image/decode.js'
import { lumaIndex } from '../image/linear-light.js'
import { mapRegion, rowsOf, type RegionMm } from '../image/region.js'
import type { CardLayout } from '../layout/schema.js'
import type { ToPx } from '../coupon/plane-map.js'

/** Pixels from one to the other of a pair: beyond what demosaicing and a linear blur of a pixel tie together. */
const LAG = 3
/** Edge of a JPEG's blocks, which start at the frame's corner. */
const BLOCK = 8
/** Smoothing leaves noise of a code value or less (drawn: 0.4 to 1.0); in quarters of a code, as luma is counted. */
const LOUD_LUMA = 4 * 1.2
const CLEAR_MM = 0.4
/** Half the edge of a square inside a disc, clear of its rim, in diameters. */
const INSIDE_DISC = 0.27

/**
 * How alike the noise is in pixels three apart, on the bare white and black patches: autocorrelation, -1 to 1, less where noise is loud.
 *
 * A sensor's noise is each pixel's own, and demosaicing ties neighbours only. Smoothing that spares edges leaves
 * blotches wider than that, and moves edges in a way that no curve undoes. Compression ties the pixels of a block, each
 * block by itself: only pairs on either side of a block's border are looked at, so that it does not count. Smoothing
 * also quietens: amid louder noise than it leaves, likeness counts in proportion, since a soft lens makes some too where
 * noise came with the light, as in a rendering.
 *
 * @param card card millimetres at height 0 to pixels
 */
export function noiseCorrelation(photo: Photo, layout: CardLayout, card: ToPx): number {
  const areas = [
    ...layout.slots.flatMap(({ bareTarget }) => [inset(bareTarget.whiteMm), inset(bareTarget.blackMm)]),
    ...layout.fiducials.map(({ xMm, yMm, diameterMm }) => {
      const half = diameterMm * INSIDE_DISC
      return { x0: xMm - half, y0: yMm - half, x1: xMm + half, y1: yMm + half }
    }),
  ]
  const found = areas.map((area) => lagCorrelation(photo, card, area)).filter(Number.isFinite)
  const ordered = found.sort((a, b) => a - b)
  // A shadow's edge in one patch looks like a blotch: the mean of the middle ones.
  const aside = Math.floor(ordered.length / 4)
  const middle = ordered.slice(aside, ordered.length - aside)
  return middle.length > 0 ? mean(middle) : 0
}

const inset = ({ x0, y0, x1, y1 }: RegionMm): RegionMm => ({
  x0: x0 + CLEAR_MM,
  y0: y0 + CLEAR_MM,
  x1: x1 - CLEAR_MM,
  y1: y1 - CLEAR_MM,
})

interface Row {
  readonly row: number
  readonly first: number
  readonly luma: Float64Array
}

/** Autocorrelation of luma in a region, freed of a plane, over pairs along rows and columns that a block's border parts. */
function lagCorrelation(photo: Photo, toPx: ToPx, region: RegionMm): number {
  const { rgb, width } = photo
  const rows: Row[] = []
  const { count, runs } = rowsOf(mapRegion(toPx, region), region, photo)
  for (let at = 0; at < 3 * count; at += 3) {
    const [row, first, last] = [runs[at]!, runs[at + 1]!, runs[at + 2]!]
    const luma = new Float64Array(last - first + 1)
    for (let k = 0, i = 3 * (row * width + first); k < luma.length; k++, i += 3)
      luma[k] = lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)
    rows.push({ row, first, luma })
  }
  const variance = removePlane(rows)
  let [products, pairs] = [0, 0]
  const byRow = new Map(rows.map((each) => [each.row, each]))
  for (const { row, first, luma } of rows) {
    const below = row % BLOCK >= BLOCK - LAG ? byRow.get(row + LAG) : undefined
    for (let k = 0; k < luma.length; k++) {
      if ((first + k) % BLOCK >= BLOCK - LAG && k + LAG < luma.length) {
        products += luma[k]! * luma[k + LAG]!
        pairs++
      }
      const other = below?.luma[first + k - below.first]
      if (other !== undefined) {
        products += luma[k]! * other
        pairs++
      }
    }
  }
  const loud = LOUD_LUMA / Math.sqrt(variance)
  return (products / pairs / variance) * Math.min(1, loud)
}

/** Takes the plane of best fit away, in place. @returns mean square of what is left */
function removePlane(rows: readonly Row[]): number {
  let [n, sum, x, y] = [0, 0, 0, 0]
  for (const { row, first, luma } of rows)
    for (let k = 0; k < luma.length; k++) {
      n++
      sum += luma[k]!
      x += first + k
      y += row
    }
  const [mx, my, middle] = [x / n, y / n, sum / n]
  let [xx, xy, yy, xv, yv] = [0, 0, 0, 0, 0]
  for (const { row, first, luma } of rows)
    for (let k = 0; k < luma.length; k++) {
      const dx = first + k - mx
      const dy = row - my
      const dv = luma[k]! - middle
      xx += dx * dx
      xy += dx * dy
      yy += dy * dy
      xv += dx * dv
      yv += dy * dv
    }
  const determinant = xx * yy - xy * xy
  const [across, down] = [(xv * yy - yv * xy) / determinant, (yv * xx - xv * xy) / determinant]
  let squares = 0
  for (const { row, first, luma } of rows)
    for (let k = 0; k < luma.length; k++) {
      luma[k]! -= middle + across * (first + k - mx) + down * (row - my)
      squares += luma[k]! ** 2
    }
  return squares / n
}
