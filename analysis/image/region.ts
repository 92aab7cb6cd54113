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

const GRID_STEPS = [0, 1 / 3, 2 / 3, 1]

/** Four by four points that span a region. */
function gridOf({ x0, y0, x1, y1 }: RegionMm): Point[] {
  const points: Point[] = []
  for (const i of GRID_STEPS) for (const j of GRID_STEPS) points.push([x0 + i * (x1 - x0), y0 + j * (y1 - y0)])
  return points
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

/** Rows of pixels that meet a region. */
export interface PixelRows {
  readonly count: number
  /** Shape (count, 3): row, first and last column of the run of pixels whose centres lie in the region. */
  readonly runs: Int32Array
  /** Shape (count, 6): coefficients of 1, c, c^2 of x and then of y along the row, mm; c the column. */
  readonly mm: Float64Array
}

/**
 * Every row of the frame that meets the region, with the run of those of its pixels whose centres lie in it.
 *
 * A table, not a callback: what is compiled for a callback made anew for each photograph is thrown away with it.
 */
export function rowsOf(
  { middlePx, x, y, box }: RegionMap,
  region: RegionMm,
  frame: { readonly width: number; readonly height: number },
): PixelRows {
  const top = Math.max(0, box.top)
  const most = Math.max(0, Math.min(frame.height - 1, box.bottom) - top + 1)
  const runs = new Int32Array(3 * most)
  const mm = new Float64Array(6 * most)
  // Along a row x and y each rise or fall throughout, so that what lies inside is one run. The steeper of the two
  // says at once where it can begin and end; what is left to walk are the region's corners.
  const xSteeper = Math.abs(x[1]!) > Math.abs(y[1]!)
  let count = 0
  const [low, high] = xSteeper ? [region.x0, region.x1] : [region.y0, region.y1]
  const [mostLeft, mostRight] = [Math.max(0, box.left), Math.min(frame.width - 1, box.right)]
  const middleColumn = middlePx[0]
  for (let row = top; row < top + most; row++) {
    const at = 6 * count
    alongRow(x, middlePx, row, mm, at)
    alongRow(y, middlePx, row, mm, at + 3)
    const steep = xSteeper ? at : at + 3
    const from = columnOf(mm[steep]!, mm[steep + 1]!, mm[steep + 2]!, low, middleColumn)
    const to = columnOf(mm[steep]!, mm[steep + 1]!, mm[steep + 2]!, high, middleColumn)
    // Told to be whole numbers, they are counted without an object made for each.
    let first = Math.max(mostLeft, Math.floor(Math.min(from, to)) - 1) | 0
    let last = Math.min(mostRight, Math.ceil(Math.max(from, to)) + 1) | 0
    while (first <= last && !lies(region, mm, at, first)) first++
    while (last > first && !lies(region, mm, at, last)) last--
    if (first > last) continue
    runs[3 * count] = row
    runs[3 * count + 1] = first
    runs[3 * count + 2] = last
    count++
  }
  return { count, runs, mm }
}

/** Whether a column's centre lies in a region, by the row's coefficients from place `at`. */
function lies({ x0, x1, y0, y1 }: RegionMm, mm: Float64Array, at: number, column: number): boolean {
  const x = mm[at]! + column * (mm[at + 1]! + column * mm[at + 2]!)
  const y = mm[at + 3]! + column * (mm[at + 4]! + column * mm[at + 5]!)
  return x >= x0 && x <= x1 && y >= y0 && y <= y1
}

/** Column at which a row's coordinate has a value: two of Newton's steps from the middle, enough for so flat a curve. */
function columnOf(constant: number, slope: number, bend: number, valueMm: number, middleColumn: number): number {
  let column = middleColumn
  for (let i = 0; i < 2; i++)
    column += (valueMm - constant - column * (slope + column * bend)) / (slope + 2 * column * bend)
  return column
}

/** Writes a polynomial of `RegionMap` along one row, three coefficients from place `at`. */
function alongRow(p: readonly number[], middlePx: Point, row: number, mm: Float64Array, at: number): void {
  const c = middlePx[0]
  const b = row - middlePx[1]
  const constant = p[0]! + b * (p[2]! + b * p[5]!)
  const slope = p[1]! + b * p[4]!
  const bend = p[3]!
  mm[at] = constant - c * (slope - c * bend)
  mm[at + 1] = slope - 2 * c * bend
  mm[at + 2] = bend
}
