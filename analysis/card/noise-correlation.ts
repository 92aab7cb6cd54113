import { mean, median } from 'simple-statistics'
import type { Photo } from '../image/decode.js'
import { lumaIndex } from '../image/linear-light.js'
import { mapRegion, visitRows, type RegionMm } from '../image/region.js'
import type { CardLayout } from '../layout/schema.js'
import type { ToPx } from '../coupon/plane-map.js'

/** Pixels from one to the other of a pair: beyond what demosaicing and a linear blur of a pixel tie together. */
const LAG = 3
const CLEAR_MM = 0.4

/**
 * How alike the noise is in pixels three apart, on the bare white and black patches: autocorrelation, -1 to 1.
 *
 * A sensor's noise is each pixel's own, and demosaicing ties neighbours only. Smoothing that spares edges leaves
 * blotches wider than that, and moves edges in a way that no curve undoes; strong compression does so too.
 *
 * @param card card millimetres at height 0 to pixels
 */
export function noiseCorrelation(photo: Photo, layout: CardLayout, card: ToPx): number {
  const over = (areas: readonly RegionMm[]) => {
    const found = areas.map((area) => lagCorrelation(photo, card, inset(area))).filter(Number.isFinite)
    return found.length > 0 ? median(found) : 0
  }
  return mean([
    over(layout.slots.map(({ bareTarget }) => bareTarget.whiteMm)),
    over(layout.slots.map(({ bareTarget }) => bareTarget.blackMm)),
  ])
}

const inset = ({ x0, y0, x1, y1 }: RegionMm): RegionMm => ({
  x0: x0 + CLEAR_MM,
  y0: y0 + CLEAR_MM,
  x1: x1 - CLEAR_MM,
  y1: y1 - CLEAR_MM,
})

/** Autocorrelation of luma along the rows of a region, freed of a plane. */
function lagCorrelation(photo: Photo, toPx: ToPx, region: RegionMm): number {
  const { rgb, width } = photo
  const map = mapRegion(toPx, region)
  const [centreColumn, centreRow] = map.middlePx
  const rows: { readonly y: number; readonly x0: number; readonly luma: Float64Array }[] = []
  visitRows(map, region, photo, (row, first, last) => {
    if (last - first < LAG) return
    const luma = Float64Array.from({ length: last - first + 1 }, (_, k) => {
      const i = 3 * (row * width + first + k)
      return lumaIndex(rgb[i]!, rgb[i + 1]!, rgb[i + 2]!)
    })
    rows.push({ y: row - centreRow, x0: first - centreColumn, luma })
  })
  // The region is symmetric about its middle: the plane's three terms separate.
  let [n, sum, sx, sxx, sy, syy] = [0, 0, 0, 0, 0, 0]
  for (const { y, x0, luma } of rows)
    for (let k = 0; k < luma.length; k++) {
      const x = x0 + k
      n++
      sum += luma[k]!
      sx += x * luma[k]!
      sxx += x * x
      sy += y * luma[k]!
      syy += y * y
    }
  let [products, squares, pairs] = [0, 0, 0]
  for (const { y, x0, luma } of rows) {
    const rest = luma.map((value, k) => value - sum / n - (sx / sxx) * (x0 + k) - (sy / syy) * y)
    for (const value of rest) squares += value * value
    for (let k = LAG; k < rest.length; k++) products += rest[k]! * rest[k - LAG]!
    pairs += rest.length - LAG
  }
  return products / pairs / (squares / n)
}
