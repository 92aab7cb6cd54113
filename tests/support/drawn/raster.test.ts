import { describe, expect, it } from 'vitest'
import { aimCamera, planeAt, type PlaneMap } from './camera.js'
import { addDisc, addRect, createLayer } from './raster.js'

const SIGMA_PX = 0.8
const SUB = 10
const frame = { width: 260, height: 70 }
/** 40 um a pixel, tilted and rolled, so that the bars cross the pixels at every phase. */
const map = planeAt(
  aimCamera({ focalPx: 10_000, distanceMm: 400, tiltDeg: 10, azimuthDeg: 30, rollDeg: 7, k1: -0.02 }, frame, {
    x: 136,
    y: 102,
  }),
  0,
)

/** Brute force: 10 x 10 points a pixel, each black or white; a sampled Gaussian over the points; the mean of each pixel's. */
function supersampled(map: PlaneMap, inside: (u: number, v: number) => boolean): Float64Array {
  const reach = Math.ceil(5 * SIGMA_PX)
  const width = (frame.width + 2 * reach) * SUB
  const height = (frame.height + 2 * reach) * SUB
  const place = new Float64Array(2)
  const points = new Float64Array(width * height)
  for (let r = 0; r < height; r++)
    for (let c = 0; c < width; c++) {
      map.toPlane((c + 0.5) / SUB - 0.5 - reach, (r + 0.5) / SUB - 0.5 - reach, place)
      points[r * width + c] = inside(place[0] as number, place[1] as number) ? 1 : 0
    }
  // Pixel box and Gaussian in one kernel along each axis.
  const span = reach * SUB + SUB / 2
  const kernel = Array.from({ length: 2 * span }, (_, i) => {
    let sum = 0
    for (let b = 0; b < SUB; b++) sum += Math.exp(-(((i - span + b + 1 - SUB / 2) / SUB / SIGMA_PX) ** 2) / 2)
    return sum
  })
  const total = kernel.reduce((a, b) => a + b, 0)
  const across = new Float64Array(frame.width * height)
  for (let r = 0; r < height; r++)
    for (let c = 0; c < frame.width; c++) {
      let sum = 0
      for (let k = 0; k < kernel.length; k++)
        sum += (kernel[k] as number) * (points[r * width + (c + reach) * SUB + SUB / 2 - span + k] as number)
      across[r * frame.width + c] = sum / total
    }
  return Float64Array.from({ length: frame.width * frame.height }, (_, at) => {
    const c = at % frame.width
    const r = Math.floor(at / frame.width)
    let sum = 0
    for (let k = 0; k < kernel.length; k++)
      sum += (kernel[k] as number) * (across[((r + reach) * SUB + SUB / 2 - span + k) * frame.width + c] as number)
    return sum / total
  })
}

/** Width of each bar: the light it takes over the length of it that is in the rows looked at. */
function barWidthsUm(values: ArrayLike<number>, pitchMm: number, bars: number): number[] {
  const sums = new Float64Array(bars)
  const place = new Float64Array(2)
  const rows = { from: -0.9, to: 0.9 }
  const step = 0.5
  for (let row = 0; row < frame.height; row++)
    for (let column = 0; column < frame.width; column++) {
      const corner = [0, 1, 2].map((k) => {
        map.toPlane(column + (k === 1 ? step : 0), row + (k === 2 ? step : 0), place)
        return [place[0] as number, place[1] as number]
      }) as [[number, number], [number, number], [number, number]]
      const [[u, v], [u1, v1], [u2, v2]] = corner
      const bar = Math.floor(u / pitchMm + bars / 2 + 0.5)
      if (bar < 0 || bar >= bars || v < rows.from || v > rows.to) continue
      const areaMm2 = Math.abs((u1 - u) * (v2 - v) - (u2 - u) * (v1 - v)) / step ** 2
      sums[bar] = (sums[bar] as number) + (values[row * frame.width + column] as number) * areaMm2
    }
  return [...sums].map((sum) => (1000 * sum) / (rows.to - rows.from))
}

describe('a grating at 40 um a pixel', () => {
  const pitchMm = 0.8
  const widthMm = 0.4
  const bars = 11
  const rects = Array.from({ length: bars }, (_, i) => {
    const middle = (i - (bars - 1) / 2) * pitchMm - pitchMm / 2
    return { x0: middle - widthMm / 2, x1: middle + widthMm / 2, y0: -3, y1: 3 }
  })
  const layer = createLayer(0, 0, frame.width, frame.height)
  for (const rect of rects) addRect(layer, map, rect, () => SIGMA_PX)
  const reference = supersampled(map, (u, v) => rects.some((r) => u > r.x0 && u < r.x1 && v > r.y0 && v < r.y1))

  it('has the widths of the same grating drawn by brute force', () => {
    const drawn = barWidthsUm(layer.data, pitchMm, bars)
    const forced = barWidthsUm(reference, pitchMm, bars)
    const errors = drawn.map((width, i) => width - (forced[i] as number))
    expect(Math.abs(errors.reduce((a, b) => a + b, 0) / bars)).toBeLessThan(0.1)
    // Points 4 um apart leave 4 / sqrt(12 x 450 rows) x sqrt(2) = 0.08 um on one bar; three times that.
    expect(Math.max(...errors.map(Math.abs))).toBeLessThan(0.25)
  })

  it('agrees with brute force in every pixel', () => {
    let worst = 0
    layer.data.forEach((value, i) => (worst = Math.max(worst, Math.abs(value - (reference[i] as number)))))
    // An edge misplaced by half a point moves a pixel by 0.05 x 0.48; the roll spreads it over the rows of a pixel.
    expect(worst).toBeLessThan(0.006)
  })
})

describe('a disc of 2 mm', () => {
  const disc = { xMm: 0.13, yMm: 0.05, radiusMm: 1 }
  const layer = createLayer(0, 0, frame.width, frame.height)
  addDisc(layer, map, disc, () => SIGMA_PX)
  const reference = supersampled(map, (u, v) => Math.hypot(u - disc.xMm, v - disc.yMm) < disc.radiusMm)
  const moments = (values: ArrayLike<number>): { area: number; column: number; row: number } => {
    let [area, column, row] = [0, 0, 0]
    for (let i = 0; i < values.length; i++) {
      const value = values[i] as number
      area += value
      column += value * (i % frame.width)
      row += value * Math.floor(i / frame.width)
    }
    return { area, column: column / area, row: row / area }
  }

  it('has the centre and area of the same disc drawn by brute force', () => {
    const drawn = moments(layer.data)
    const forced = moments(reference)
    // Some 1600 points on the rim, each wrong by 0.29 x 0.01 px^2 at 25 px from the middle, leave 0.001 px; three times that.
    expect(Math.abs(drawn.column - forced.column)).toBeLessThan(0.003)
    expect(Math.abs(drawn.row - forced.row)).toBeLessThan(0.003)
    // Half of 0.005 px of radius.
    expect(Math.abs(drawn.area / forced.area - 1)).toBeLessThan(0.0003)
  })
})
