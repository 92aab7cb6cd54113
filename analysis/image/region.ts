import { solve, Matrix } from 'ml-matrix'

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
  const columns = px.map(([c]) => c)
  const lines = px.map(([, r]) => r)
  return {
    middlePx,
    x,
    y,
    box: {
      left: Math.floor(Math.min(...columns)),
      right: Math.ceil(Math.max(...columns)),
      top: Math.floor(Math.min(...lines)),
      bottom: Math.ceil(Math.max(...lines)),
    },
    mmPerPx: Math.sqrt(Math.abs((x[1] ?? 0) * (y[2] ?? 0) - (x[2] ?? 0) * (y[1] ?? 0))),
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

function fitQuadratic(from: readonly Point[], middle: Point, to: readonly Point[]): { x: number[]; y: number[] } {
  const rows = from.map((point) => {
    const [a, b] = [point[0] - middle[0], point[1] - middle[1]]
    return [1, a, b, a * a, a * b, b * b]
  })
  const fitted = solve(new Matrix(rows), new Matrix(to.map((point) => [...point])))
  return { x: fitted.getColumn(0), y: fitted.getColumn(1) }
}

/**
 * Calls back for every pixel whose centre lies in the region.
 *
 * @param visit column, row of the pixel, x and y of its centre in mm
 */
export function visitRegion(
  { middlePx, x, y, box }: RegionMap,
  region: RegionMm,
  frame: { readonly width: number; readonly height: number },
  visit: (column: number, row: number, xMm: number, yMm: number) => void,
): void {
  const [x0 = 0, x1 = 0, x2 = 0, x3 = 0, x4 = 0, x5 = 0] = x
  const [y0 = 0, y1 = 0, y2 = 0, y3 = 0, y4 = 0, y5 = 0] = y
  const first = Math.max(0, box.left)
  const last = Math.min(frame.width - 1, box.right)
  for (let row = Math.max(0, box.top); row <= Math.min(frame.height - 1, box.bottom); row++) {
    const b = row - middlePx[1]
    const [xb, xs, yb, ys] = [x0 + b * (x2 + b * x5), x1 + b * x4, y0 + b * (y2 + b * y5), y1 + b * y4]
    for (let column = first; column <= last; column++) {
      const a = column - middlePx[0]
      const xMm = xb + a * (xs + a * x3)
      if (xMm < region.x0 || xMm > region.x1) continue
      const yMm = yb + a * (ys + a * y3)
      if (yMm < region.y0 || yMm > region.y1) continue
      visit(column, row, xMm, yMm)
    }
  }
}
