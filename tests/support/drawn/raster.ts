import type { RectMm } from '../../../analysis/layout/schema.js'
import type { PlaneMap } from './camera.js'
import { edgeTable, lookUp, type EdgeTable } from './edge-response.js'

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
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity]
  const include = (x: number, y: number): void => {
    const { column, row } = map.toPixel(x, y)
    left = Math.min(left, column)
    right = Math.max(right, column)
    top = Math.min(top, row)
    bottom = Math.max(bottom, row)
  }
  // Distortion bows the sides, so points along long ones are looked at too.
  const pieces = Math.max(x1 - x0, y1 - y0) > 10 ? 4 : 1
  for (let k = 0; k <= pieces; k++) {
    const x = x0 + ((x1 - x0) * k) / pieces
    const y = y0 + ((y1 - y0) * k) / pieces
    include(x, y0)
    include(x, y1)
    if (k % pieces !== 0) {
      include(x0, y)
      include(x1, y)
    }
  }
  return {
    column0: Math.max(layer.column0, Math.floor(left - marginPx)),
    row0: Math.max(layer.row0, Math.floor(top - marginPx)),
    column1: Math.min(layer.column0 + layer.width, Math.ceil(right + marginPx) + 1),
    row1: Math.min(layer.row0 + layer.height, Math.ceil(bottom + marginPx) + 1),
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

/** By differences over one pixel. */
export function slopesAt(map: PlaneMap, column: number, row: number): Slopes {
  map.toPlane(column - 0.5, row, scratch)
  const uLeft = scratch[0] as number
  const vLeft = scratch[1] as number
  map.toPlane(column + 0.5, row, scratch)
  const uRight = scratch[0] as number
  const vRight = scratch[1] as number
  map.toPlane(column, row - 0.5, scratch)
  const uAbove = scratch[0] as number
  const vAbove = scratch[1] as number
  map.toPlane(column, row + 0.5, scratch)
  const uBelow = scratch[0] as number
  const vBelow = scratch[1] as number
  return {
    u: (uLeft + uRight) / 2,
    v: (vLeft + vRight) / 2,
    uColumn: uRight - uLeft,
    uRow: uBelow - uAbove,
    vColumn: vRight - vLeft,
    vRow: vBelow - vAbove,
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
