import type { RectMm } from '../../../analysis/layout/schema.js'
import type { PlaneMap } from './camera.js'
import { edgeTable, lookUp, normalShare, type EdgeTable } from './edge-response.js'

/** A rectangle of the frame with one value a pixel. */
export interface Layer {
  column0: number
  row0: number
  width: number
  height: number
  data: Float32Array
}

export function createLayer(column0: number, row0: number, width: number, height: number): Layer {
  return { column0, row0, width, height, data: new Float32Array(width * height) }
}

/** Standard deviation of the blur at a pixel. */
export type BlurAt = (column: number, row: number) => number

/** Pixels whose centres may see a rectangle of a plane, grown by a margin, within the layer; columns and rows to, not including. */
export function boundsOf(
  layer: Layer,
  map: PlaneMap,
  { x0, y0, x1, y1 }: RectMm,
  marginPx: number,
): { column0: number; row0: number; column1: number; row1: number } {
  // Distortion bows the sides, so points along them are looked at too.
  const shares = [0, 0.25, 0.5, 0.75, 1]
  const rim = shares.flatMap((s) => [
    map.toPixel(x0 + s * (x1 - x0), y0),
    map.toPixel(x0 + s * (x1 - x0), y1),
    map.toPixel(x0, y0 + s * (y1 - y0)),
    map.toPixel(x1, y0 + s * (y1 - y0)),
  ])
  const columns = rim.map(({ column }) => column)
  const rows = rim.map(({ row }) => row)
  return {
    column0: Math.max(layer.column0, Math.floor(Math.min(...columns) - marginPx)),
    row0: Math.max(layer.row0, Math.floor(Math.min(...rows) - marginPx)),
    column1: Math.min(layer.column0 + layer.width, Math.ceil(Math.max(...columns) + marginPx) + 1),
    row1: Math.min(layer.row0 + layer.height, Math.ceil(Math.max(...rows) + marginPx) + 1),
  }
}

/** How a plane's coordinates u, v change along the columns and rows at a pixel. */
interface Slopes {
  u: number
  v: number
  uColumn: number
  uRow: number
  vColumn: number
  vRow: number
}

const scratch = new Float64Array(2)

function slopesAt(map: PlaneMap, column: number, row: number): Slopes {
  const at = (c: number, r: number): [number, number] => {
    map.toPlane(c, r, scratch)
    return [scratch[0] as number, scratch[1] as number]
  }
  const [left, right] = [at(column - 0.5, row), at(column + 0.5, row)]
  const [above, below] = [at(column, row - 0.5), at(column, row + 0.5)]
  const [u, v] = at(column, row)
  return {
    u,
    v,
    uColumn: right[0] - left[0],
    uRow: below[0] - above[0],
    vColumn: right[1] - left[1],
    vRow: below[1] - above[1],
  }
}

const BLOCK = 16

/** Calls `full` or `mixed` for the blocks of a box that a shape fills or crosses; `insidePx` is its signed distance at a block's centre. */
function forBlocks(
  box: { column0: number; row0: number; column1: number; row1: number },
  map: PlaneMap,
  insidePx: (slopes: Slopes) => number,
  reachPx: number,
  full: (c0: number, r0: number, c1: number, r1: number) => void,
  mixed: (c0: number, r0: number, c1: number, r1: number, slopes: Slopes) => void,
): void {
  // Half a block's diagonal, and a little for the bend of the map over it.
  const far = reachPx + 0.75 * BLOCK
  for (let r0 = box.row0; r0 < box.row1; r0 += BLOCK)
    for (let c0 = box.column0; c0 < box.column1; c0 += BLOCK) {
      const c1 = Math.min(c0 + BLOCK, box.column1)
      const r1 = Math.min(r0 + BLOCK, box.row1)
      const slopes = slopesAt(map, (c0 + c1 - 1) / 2, (r0 + r1 - 1) / 2)
      const inside = insidePx(slopes)
      if (inside > far) full(c0, r0, c1, r1)
      else if (inside > -far) mixed(c0, r0, c1, r1, slopes)
    }
}

function addFull(layer: Layer, weight: number) {
  return (c0: number, r0: number, c1: number, r1: number): void => {
    for (let row = r0; row < r1; row++) {
      const start = (row - layer.row0) * layer.width - layer.column0
      for (let i = start + c0; i < start + c1; i++) layer.data[i] = (layer.data[i] as number) + weight
    }
  }
}

/**
 * Adds a rectangle's share of every pixel, blurred by the lens.
 *
 * Places are exact. Each side's edge response is exact for the map's slope at the middle of a block of 16 pixels. Where two
 * sides meet the two responses are multiplied, which leaves out the pixel's squareness when the rectangle stands askew.
 */
export function addRect(layer: Layer, map: PlaneMap, rect: RectMm, blurAt: BlurAt, weight = 1): void {
  const { x0, y0, x1, y1 } = rect
  if (x1 <= x0 || y1 <= y0) return
  const middle = map.toPixel((x0 + x1) / 2, (y0 + y1) / 2)
  const sigma = blurAt(middle.column, middle.row)
  const { reachPx } = edgeTable(sigma, 0)
  const inside = ({ u, v, uColumn, uRow, vColumn, vRow }: Slopes): number =>
    Math.min(Math.min(u - x0, x1 - u) / Math.hypot(uColumn, uRow), Math.min(v - y0, y1 - v) / Math.hypot(vColumn, vRow))
  const { data, width, column0, row0 } = layer
  forBlocks(
    boundsOf(layer, map, rect, reachPx),
    map,
    inside,
    reachPx,
    addFull(layer, weight),
    (c0, r0, c1, r1, { uColumn, uRow, vColumn, vRow }) => {
      const local = blurAt((c0 + c1) / 2, (r0 + r1) / 2)
      const tableU = edgeTable(local, Math.atan2(uRow, uColumn))
      const tableV = edgeTable(local, Math.atan2(vRow, vColumn))
      const perU = 1 / Math.hypot(uColumn, uRow)
      const perV = 1 / Math.hypot(vColumn, vRow)
      for (let row = r0; row < r1; row++)
        for (let column = c0; column < c1; column++) {
          map.toPlane(column, row, scratch)
          const u = scratch[0] as number
          const v = scratch[1] as number
          const across = lookUp(tableU, (u - x0) * perU) - lookUp(tableU, (u - x1) * perU)
          if (across < 1e-9) continue
          const along = lookUp(tableV, (v - y0) * perV) - lookUp(tableV, (v - y1) * perV)
          const i = (row - row0) * width + column - column0
          data[i] = (data[i] as number) + weight * across * along
        }
    },
  )
}

/** Adds a disc's share of every pixel, as for a straight edge that stands back by the blur's pull on a curved one. */
export function addDisc(
  layer: Layer,
  map: PlaneMap,
  disc: { xMm: number; yMm: number; radiusMm: number },
  blurAt: BlurAt,
  weight = 1,
): void {
  const { xMm, yMm, radiusMm } = disc
  const middle = map.toPixel(xMm, yMm)
  const sigma = blurAt(middle.column, middle.row)
  const table: EdgeTable = edgeTable(sigma, Math.PI / 8)
  const { uColumn, uRow, vColumn, vRow } = slopesAt(map, middle.column, middle.row)
  const pxPerMm = 1 / Math.sqrt(Math.abs(uColumn * vRow - uRow * vColumn))
  // A blur of variance s^2 moves the half level of a disc of radius R inwards by s^2 / 2R.
  const pullPx = (sigma * sigma + 1 / 12) / (2 * radiusMm * pxPerMm)
  const distance = (u: number, v: number): number => {
    const dx = u - xMm
    const dy = v - yMm
    const r = Math.hypot(dx, dy)
    if (r === 0) return radiusMm * pxPerMm
    const slope = Math.hypot(dx * uColumn + dy * vColumn, dx * uRow + dy * vRow) / r
    return (radiusMm - r) / slope - pullPx
  }
  const { data, width, column0, row0 } = layer
  const box = { x0: xMm - radiusMm, y0: yMm - radiusMm, x1: xMm + radiusMm, y1: yMm + radiusMm }
  forBlocks(
    boundsOf(layer, map, box, table.reachPx),
    map,
    ({ u, v }) => distance(u, v),
    table.reachPx,
    addFull(layer, weight),
    (c0, r0, c1, r1) => {
      for (let row = r0; row < r1; row++)
        for (let column = c0; column < c1; column++) {
          map.toPlane(column, row, scratch)
          const i = (row - row0) * width + column - column0
          data[i] = (data[i] as number) + weight * lookUp(table, distance(scratch[0] as number, scratch[1] as number))
        }
    },
  )
}

/** The shares of rectangles under a blur of millimetres, worked out four times a standard deviation and linear between. */
export function wideShares(
  shape: Pick<Layer, 'column0' | 'row0' | 'width' | 'height'>,
  map: PlaneMap,
  rects: readonly RectMm[],
  spreadMm: number,
): Layer {
  const { uColumn, uRow } = slopesAt(map, shape.column0 + shape.width / 2, shape.row0 + shape.height / 2)
  const step = Math.max(1, Math.min(16, Math.floor(spreadMm / Math.hypot(uColumn, uRow) / 4)))
  const columns = Math.ceil(shape.width / step) + 2
  const rows = Math.ceil(shape.height / step) + 2
  const far = 5 * spreadMm
  const coarse = new Float64Array(columns * rows)
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      map.toPlane(shape.column0 + c * step, shape.row0 + r * step, scratch)
      const [u = 0, v = 0] = scratch
      let sum = 0
      for (const { x0, y0, x1, y1 } of rects) {
        if (u < x0 - far || u > x1 + far || v < y0 - far || v > y1 + far) continue
        sum +=
          (normalShare((u - x0) / spreadMm) - normalShare((u - x1) / spreadMm)) *
          (normalShare((v - y0) / spreadMm) - normalShare((v - y1) / spreadMm))
      }
      coarse[r * columns + c] = sum
    }
  const layer = createLayer(shape.column0, shape.row0, shape.width, shape.height)
  for (let row = 0; row < shape.height; row++) {
    const r = Math.trunc(row / step)
    const fr = row / step - r
    for (let column = 0; column < shape.width; column++) {
      const c = Math.trunc(column / step)
      const fc = column / step - c
      const i = r * columns + c
      const upper = (coarse[i] as number) * (1 - fc) + (coarse[i + 1] as number) * fc
      const lower = (coarse[i + columns] as number) * (1 - fc) + (coarse[i + columns + 1] as number) * fc
      layer.data[row * shape.width + column] = upper * (1 - fr) + lower * fr
    }
  }
  return layer
}
