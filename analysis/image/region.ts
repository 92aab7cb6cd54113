import { factorInPlace, solveInPlace } from '../statistics/cholesky.js'

type Point = readonly [number, number]

/** A rectangle in the millimetres of some plane. */
export interface RegionMm {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/**
 * Pixels to millimetres inside one small region: second-order polynomials about the region's middle.
 *
 * Over 10 mm seen from 250 mm at 25 degrees the third-order rest is below 0.05 um, and evaluating six terms a pixel
 * is several times cheaper than undistorting each one.
 */
export interface RegionMap {
  readonly middlePx: Point
  /** Six coefficients each of 1, a, b, a^2, ab, b^2 with a, b the pixel relative to `middlePx`. */
  readonly x: readonly number[]
  readonly y: readonly number[]
  /** Whole pixels that hold the region: first and last column and row. */
  readonly box: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number }
  /** Mean size of a pixel, mm. */
  readonly mmPerPx: number
}

/**
 * @param toPx millimetres to pixels
 * @param region in the same millimetres
 */
export function mapRegion(toPx: (xMm: number, yMm: number) => Point, region: RegionMm): RegionMap {
  const mm = gridOf(region)
  const px = mm.map(([x, y]) => toPx(x, y))
  const middlePx = toPx((region.x0 + region.x1) / 2, (region.y0 + region.y1) / 2)
  const { x, y } = fitQuadratic(px, middlePx, mm)
  return { middlePx, x, y, box: boxOf(px), mmPerPx: Math.sqrt(Math.abs(x[1]! * y[2]! - x[2]! * y[1]!)) }
}

/**
 * The map of a part of a mapped region: for many small parts side by side one map will do.
 *
 * @param toPx what `map` was made from
 */
export function mapPart(map: RegionMap, toPx: (xMm: number, yMm: number) => Point, part: RegionMm): RegionMap {
  const { x0, y0, x1, y1 } = part
  return { ...map, box: boxOf([toPx(x0, y0), toPx(x1, y0), toPx(x0, y1), toPx(x1, y1)]) }
}

function boxOf(px: readonly Point[]): RegionMap['box'] {
  const columns = px.map(([column]) => column)
  const rows = px.map(([, row]) => row)
  return {
    left: Math.floor(Math.min(...columns)),
    right: Math.ceil(Math.max(...columns)),
    top: Math.floor(Math.min(...rows)),
    bottom: Math.ceil(Math.max(...rows)),
  }
}

/** Millimetres to pixels inside one region: the same polynomials the other way round. */
export interface PixelMap {
  readonly middleMm: Point
  /** Six coefficients each of 1, a, b, a^2, ab, b^2 with a, b the millimetres relative to `middleMm`. */
  readonly x: readonly number[]
  readonly y: readonly number[]
}

/**
 * For very many projections within a region where a hundredth of a millimetre is near enough: no object is made for each.
 */
export function mapToPixels(toPx: (xMm: number, yMm: number) => Point, region: RegionMm): PixelMap {
  const mm = gridOf(region)
  const middleMm = [(region.x0 + region.x1) / 2, (region.y0 + region.y1) / 2] as const
  return {
    middleMm,
    ...fitQuadratic(
      mm,
      middleMm,
      mm.map(([x, y]) => toPx(x, y)),
    ),
  }
}

/** Four by four points that span a region. */
function gridOf({ x0, y0, x1, y1 }: RegionMm): Point[] {
  const steps = [0, 1 / 3, 2 / 3, 1]
  return steps.flatMap((i) => steps.map((j) => [x0 + i * (x1 - x0), y0 + j * (y1 - y0)] as const))
}

/**
 * Least squares by the normal equations: with the grid scaled to about 1 they lose three digits of sixteen, and a
 * library's decomposition of so small a matrix takes thirty times as long.
 */
function fitQuadratic(from: readonly Point[], middle: Point, to: readonly Point[]): { x: number[]; y: number[] } {
  const scale = Math.max(...from.map(([a, b]) => Math.max(Math.abs(a - middle[0]), Math.abs(b - middle[1]))))
  const normal = new Float64Array(36)
  const [x, y] = [new Float64Array(6), new Float64Array(6)]
  for (const [k, point] of from.entries()) {
    const [a, b] = [(point[0] - middle[0]) / scale, (point[1] - middle[1]) / scale]
    const terms = [1, a, b, a * a, a * b, b * b]
    const [toX, toY] = to[k] ?? [0, 0]
    for (let i = 0; i < 6; i++) {
      x[i]! += terms[i]! * toX
      y[i]! += terms[i]! * toY
      for (let j = 0; j <= i; j++) normal[6 * i + j]! += terms[i]! * terms[j]!
    }
  }
  factorInPlace(normal, 6)
  solveInPlace(normal, 6, x)
  solveInPlace(normal, 6, y)
  const units = [1, scale, scale, scale ** 2, scale ** 2, scale ** 2]
  return { x: units.map((unit, i) => x[i]! / unit), y: units.map((unit, i) => y[i]! / unit) }
}

/** Coefficients of 1, c, c^2 of millimetres in c, the column. */
type AlongRow = Readonly<Float64Array>

/**
 * Calls back for every row that meets the region, with the run of those of its pixels whose centres lie in it.
 *
 * A call a row, not a pixel: with several callbacks at one place the engine inlines none of them.
 *
 * @param visit row, its first and last column inside, x and y along it in mm; these two are overwritten by the next row
 */
export function visitRows(
  { middlePx, x, y, box }: RegionMap,
  region: RegionMm,
  frame: { readonly width: number; readonly height: number },
  visit: (row: number, first: number, last: number, x: AlongRow, y: AlongRow) => void,
): void {
  const xMm = new Float64Array(3)
  const yMm = new Float64Array(3)
  const inside = (column: number) => {
    const atX = xMm[0]! + column * (xMm[1]! + column * xMm[2]!)
    const atY = yMm[0]! + column * (yMm[1]! + column * yMm[2]!)
    return atX >= region.x0 && atX <= region.x1 && atY >= region.y0 && atY <= region.y1
  }
  for (let row = Math.max(0, box.top); row <= Math.min(frame.height - 1, box.bottom); row++) {
    alongRow(x, middlePx, row, xMm)
    alongRow(y, middlePx, row, yMm)
    // Along a row x and y each rise or fall throughout, so that what lies inside is one run. The steeper of the two
    // says at once where it can begin and end; what is left to walk are the region's corners.
    const xSteeper = Math.abs(x[1]!) > Math.abs(y[1]!)
    const steep = xSteeper ? xMm : yMm
    const from = columnOf(steep, xSteeper ? region.x0 : region.y0, middlePx[0])
    const to = columnOf(steep, xSteeper ? region.x1 : region.y1, middlePx[0])
    // Told to be whole numbers, they are handed on without an object made for each.
    let first = Math.max(0, box.left, Math.floor(Math.min(from, to)) - 1) | 0
    let last = Math.min(frame.width - 1, box.right, Math.ceil(Math.max(from, to)) + 1) | 0
    while (first <= last && !inside(first)) first++
    while (last > first && !inside(last)) last--
    if (first <= last) visit(row, first, last, xMm, yMm)
  }
}

/** Column at which a row's coordinate has a value: two of Newton's steps from the middle, enough for so flat a curve. */
function columnOf(p: AlongRow, valueMm: number, middleColumn: number): number {
  let column = middleColumn
  for (let i = 0; i < 2; i++)
    column += (valueMm - p[0]! - column * (p[1]! + column * p[2]!)) / (p[1]! + 2 * column * p[2]!)
  return column
}

/** A polynomial of `RegionMap` along one row. */
function alongRow(p: readonly number[], middlePx: Point, row: number, out: Float64Array): void {
  const c = middlePx[0]
  const b = row - middlePx[1]
  const constant = p[0]! + b * (p[2]! + b * p[5]!)
  const slope = p[1]! + b * p[4]!
  const bend = p[3]!
  out[0] = constant - c * (slope - c * bend)
  out[1] = slope - 2 * c * bend
  out[2] = bend
}
