import type { RectMm } from '../../../analysis/layout/schema.js'
import type { PlaneMap } from './camera.js'
import { normalShare } from './edge-response.js'
import { createLayer, slopesAt, type Layer } from './raster.js'

/** Values at the nodes of an even grid, linear between them, 0 outside. */
interface Grid {
  x0: number
  y0: number
  step: number
  columns: number
  rows: number
  values: Float32Array
}

function readGrid({ x0, y0, step, columns, rows, values }: Grid, x: number, y: number): number {
  const column = (x - x0) / step
  const row = (y - y0) / step
  if (!(column >= 0 && row >= 0 && column < columns - 1 && row < rows - 1)) return 0
  const c = Math.trunc(column)
  const r = Math.trunc(row)
  const fc = column - c
  const i = r * columns + c
  const upper = (values[i] as number) * (1 - fc) + (values[i + 1] as number) * fc
  const lower = (values[i + columns] as number) * (1 - fc) + (values[i + columns + 1] as number) * fc
  return upper + (lower - upper) * (row - r)
}

/** The blurred shares of rectangles in their own plane, at nodes a sixth of the blur's deviation apart. */
function blurInPlane(rects: readonly RectMm[], spreadMm: number): Grid {
  const far = 5 * spreadMm
  const x0 = Math.min(...rects.map((r) => r.x0)) - far
  const y0 = Math.min(...rects.map((r) => r.y0)) - far
  const step = spreadMm / 6
  const columns = Math.ceil((Math.max(...rects.map((r) => r.x1)) + far - x0) / step) + 2
  const rows = Math.ceil((Math.max(...rects.map((r) => r.y1)) + far - y0) / step) + 2
  const values = new Float32Array(columns * rows)
  /** Share of one side of a rectangle at each node, and the nodes it reaches. */
  const side = (from: number, to: number, start: number, count: number) => ({
    first: Math.max(0, Math.floor((from - far - start) / step)),
    end: Math.min(count, Math.ceil((to + far - start) / step) + 1),
    shares: Float64Array.from({ length: count }, (_, i) => {
      const at = start + i * step
      return normalShare((at - from) / spreadMm) - normalShare((at - to) / spreadMm)
    }),
  })
  for (const rect of rects) {
    const across = side(rect.x0, rect.x1, x0, columns)
    const along = side(rect.y0, rect.y1, y0, rows)
    for (let r = along.first; r < along.end; r++) {
      const share = along.shares[r] as number
      for (let c = across.first, i = r * columns + c; c < across.end; c++, i++)
        values[i] = (values[i] as number) + share * (across.shares[c] as number)
    }
  }
  return { x0, y0, step, columns, rows, values }
}

/** Places to look at in the plane: every pixel's would cost more than a blur as wide as this needs. */
const STEPS_PER_SPREAD = 4

/**
 * The shares of rectangles that do not overlap, under a Gaussian blur of millimetres.
 *
 * For what varies slowly only: linear between places a quarter of a standard deviation, at most 16 pixels, apart.
 */
export function wideShares(
  shape: Pick<Layer, 'column0' | 'row0' | 'width' | 'height'>,
  map: PlaneMap,
  rects: readonly RectMm[],
  spreadMm: number,
): Layer {
  const { column0, row0, width, height } = shape
  const layer = createLayer(column0, row0, width, height)
  if (rects.length === 0 || width === 0 || height === 0) return layer
  const inPlane = blurInPlane(rects, spreadMm)
  const { uColumn, uRow } = slopesAt(map, column0 + width / 2, row0 + height / 2)
  const step = Math.max(1, Math.min(16, Math.floor(spreadMm / Math.hypot(uColumn, uRow) / STEPS_PER_SPREAD)))
  const place = new Float64Array(2)
  const columns = Math.ceil(width / step) + 2
  const rows = Math.ceil(height / step) + 2
  const coarse: Grid = { x0: 0, y0: 0, step, columns, rows, values: new Float32Array(columns * rows) }
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      map.toPlane(column0 + c * step, row0 + r * step, place)
      coarse.values[r * columns + c] = readGrid(inPlane, place[0] as number, place[1] as number)
    }
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) layer.data[row * width + column] = readGrid(coarse, column, row)
  return layer
}
