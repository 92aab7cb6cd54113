import type { ToPx } from '../coupon/plane-map.js'
import type { WindowDefect } from '../result.js'
import type { TargetGrid } from './predict-target.js'

/** Longer than this many widths: a line, not a spot. */
const LINE = 3
const LEAST_LINE_MM = 0.8
/** Layers lie along x of the card; a coupon lies in its slot to a few degrees. */
const ALONG_LAYERS_DEG = 12
const CORNERS = 16

/**
 * Says what a region is by its shape: a line along the layers, another line, or a spot. A spot that is dark throughout is
 * dust; one with light of its own, in its middle or round it, is a bubble, which bends light instead of stopping it.
 *
 * @param cells of the region, indices into the grid
 * @param residual of each cell, share of the paper's light
 */
export function classifyDefect(
  cells: readonly number[],
  residual: Float64Array,
  { areaMm, cellMm, columns }: TargetGrid,
  toPx: ToPx,
): WindowDefect {
  const places = cells.map((i) => ({
    x: areaMm.x0 + ((i % columns) + 0.5) * cellMm,
    y: areaMm.y0 + (Math.floor(i / columns) + 0.5) * cellMm,
    value: residual[i]!,
  }))
  const mean = (of: (place: (typeof places)[number]) => number) =>
    places.reduce((sum, place) => sum + of(place), 0) / places.length
  const [x, y] = [mean((p) => p.x), mean((p) => p.y)]
  // A cell has a width of its own.
  const own = cellMm ** 2 / 12
  const [xx, yy, xy] = [
    mean((p) => (p.x - x) ** 2) + own,
    mean((p) => (p.y - y) ** 2) + own,
    mean((p) => (p.x - x) * (p.y - y)),
  ]
  const turn = 0.5 * Math.atan2(2 * xy, xx - yy)
  const difference = Math.hypot((xx - yy) / 2, xy)
  // A filled ellipse has a variance of a quarter of its half axis squared.
  const [long, short] = [(xx + yy) / 2 + difference, Math.max(own, (xx + yy) / 2 - difference)].map(
    (v) => 2 * Math.sqrt(v),
  ) as [number, number]
  const outlinePx = Array.from({ length: CORNERS }, (_, k) => {
    const angle = (2 * Math.PI * k) / CORNERS
    const [a, b] = [(long + cellMm / 2) * Math.cos(angle), (short + cellMm / 2) * Math.sin(angle)]
    return [...toPx(x + a * Math.cos(turn) - b * Math.sin(turn), y + a * Math.sin(turn) + b * Math.cos(turn))] as [
      number,
      number,
    ]
  })
  const isLine = long > LINE * short && 2 * long > LEAST_LINE_MM
  const tiltDeg = Math.abs((turn * 180) / Math.PI)
  const extreme = (of: (a: number, b: number) => number) => places.reduce((found, { value }) => of(found, value), 0)
  const [darkest, brightest] = [extreme(Math.min), extreme(Math.max)]
  const spot = brightest > -SPARK * darkest ? 'bubble' : 'dust'
  return {
    kind: !isLine ? spot : tiltDeg < ALONG_LAYERS_DEG ? 'layer-band' : 'scratch',
    areaMm2: cells.length * cellMm ** 2,
    depth: brightest > -darkest ? brightest : darkest,
    outlinePx,
  }
}

/** Bright part of a bubble over its dark part, at least. A judgement, no source. */
const SPARK = 0.2
