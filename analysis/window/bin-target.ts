import type { ToPx } from '../coupon/plane-map.js'
import { lightAt, type LightField } from '../image/light-field.js'
import { mapRegion, rowsOf } from '../image/region.js'
import type { PointPx } from '../result.js'
import type { TargetGrid } from './predict-target.js'

/**
 * Mean light of each cell of a grid.
 *
 * @param toPx the grid's millimetres to pixels
 * @returns shape (rows, columns); not a number where no pixel falls or the place is not clear
 */
export function binTarget(
  light: LightField,
  toPx: ToPx,
  { areaMm, cellMm, columns, rows }: TargetGrid,
  isClear: (px: PointPx) => boolean,
): Float64Array {
  const sums = new Float64Array(columns * rows)
  const counts = new Uint16Array(columns * rows)
  const region = { ...areaMm, x1: areaMm.x0 + columns * cellMm, y1: areaMm.y0 + rows * cellMm }
  const { count, runs, mm } = rowsOf(mapRegion(toPx, region), region, light.photo)
  for (let k = 0; k < count; k++) {
    const row = runs[3 * k]!
    const last = runs[3 * k + 2]!
    const at = 6 * k
    for (let column = runs[3 * k + 1]!; column <= last; column++) {
      const xMm = mm[at]! + column * (mm[at + 1]! + column * mm[at + 2]!)
      const yMm = mm[at + 3]! + column * (mm[at + 4]! + column * mm[at + 5]!)
      const i =
        Math.min(rows - 1, Math.floor((yMm - region.y0) / cellMm)) * columns +
        Math.min(columns - 1, Math.floor((xMm - region.x0) / cellMm))
      sums[i]! += lightAt(light, column, row)
      counts[i]!++
    }
  }
  const place = (column: number, row: number) =>
    toPx(region.x0 + (column + 0.5) * cellMm, region.y0 + (row + 0.5) * cellMm)
  const corners = [place(0, 0), place(columns - 1, 0), place(0, rows - 1), place(columns - 1, rows - 1)]
  const allClear = corners.every((corner) => isClear([...corner]))
  for (let row = 0, i = 0; row < rows; row++)
    for (let column = 0; column < columns; column++, i++) {
      // Nothing fell: 0 over 0 is the not-a-number that is wanted.
      sums[i]! /= counts[i]!
      if (!allClear && !isClear([...place(column, row)])) sums[i] = NaN
    }
  return sums
}
