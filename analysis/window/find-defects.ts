import { maskComponents } from '../image/opencv.js'
import type { LightField } from '../image/light-field.js'
import type { ToPx } from '../coupon/plane-map.js'
import type { PointPx, WindowDefect } from '../result.js'
import { classifyDefect } from './classify-defect.js'
import type { FittedWindow } from './fit-window.js'
import { predictTarget, type PredictedFrom, type TargetGrid } from './predict-target.js'
import { binTarget } from './bin-target.js'
import { flattened, noiseOf } from './residual-noise.js'
import { targetCorner } from './target-cells.js'

export interface WindowDefects {
  readonly defects: readonly WindowDefect[]
  /** Share of the examined part of the window that they cover. */
  readonly coveredShare: number
  /** The part of the window that lies over the target and its white border. */
  readonly examinedMm2: number
}

/** Two pixels of an ordinary photograph: fine enough for a bubble of 0.25 mm. */
const CELL_MM = 0.08
/** The target is surrounded by white paper this far at least. */
const BORDER_MM = 0.7
/** Common practice: beyond 4 standard deviations, and one part of it beyond 6. */
const NOISE_TIMES = { cell: 4, peak: 6 }
/** Below this, share of the paper's light, the model of the target is not sure itself, and less so of sharpened or smoothed bars. */
const FLOOR = { plain: 0.03, finished: 0.06 }
/** A bubble of 0.26 mm; smaller ones are not told from noise that neighbouring pixels share. */
const LEAST_CELLS = 8
/** Edges are seen off their place by about this; those along the layers by more, which even fine layer lines shift and streak. */
const EDGE_MM = { x: 0.03, y: 0.1 }
/** So far from such an edge its streaks are seen: 0.3 mm in a path-traced window with layer lines of 0.3 um. */
const STREAK_ROWS = 4

/**
 * Finds what lies in or on a window over its target: pixels that the fitted model of the target does not explain.
 *
 * @param toPx card millimetres as seen through the window to pixels
 * @param isClear whether a pixel lies well inside the window
 * @param finished whether the camera sharpened or smoothed the picture
 */
export function findDefects(
  light: LightField,
  problem: PredictedFrom,
  model: FittedWindow['model'],
  toPx: ToPx,
  isClear: (px: PointPx) => boolean,
  finished: boolean,
): WindowDefects {
  const { plan, bare, target } = problem
  const corner = targetCorner(target)
  const onCard: ToPx = (x, y) => toPx(x + corner[0], y + corner[1])
  const areaMm = { x0: -BORDER_MM, y0: -BORDER_MM, x1: plan.sizeMm.x + BORDER_MM, y1: plan.sizeMm.y + BORDER_MM }
  const grid: TargetGrid = {
    areaMm,
    cellMm: CELL_MM,
    columns: Math.floor((areaMm.x1 - areaMm.x0) / CELL_MM),
    rows: Math.floor((areaMm.y1 - areaMm.y0) / CELL_MM),
  }
  const seen = binTarget(light, onCard, grid, isClear)
  const predicted = alignedPrediction(seen, problem, model, grid)
  const level = predicted.map((value) => value / bare.white)
  const slopeX = steepness(level, 1)
  const slopeY = steepness(level, grid.columns)
  const residual = flattened(
    seen.map((value, i) => value / bare.white - level[i]!),
    grid,
  )
  const rise = slopeX.map((value, i) => Math.sqrt(value * value + slopeY[i]! * slopeY[i]!) * CELL_MM)
  const noise = noiseOf(residual, level, rise)
  const floor = (finished ? FLOOR.finished : FLOOR.plain) / NOISE_TIMES.cell
  const beyond = residual.map((value, i) => {
    if (Number.isNaN(value)) return 0
    let streak = 0
    for (let row = -STREAK_ROWS; row <= STREAK_ROWS; row++) {
      const steep = slopeY[i + row * grid.columns]
      if (steep !== undefined && steep > streak) streak = steep
    }
    const [x, y] = [EDGE_MM.x * slopeX[i]!, EDGE_MM.y * streak]
    return (Math.abs(value) - Math.sqrt(x * x + y * y)) / Math.max(noise[i]!, floor)
  })
  const mask = Uint8Array.from(beyond, (times) => (times > NOISE_TIMES.cell ? 255 : 0))
  const regions = maskComponents(grid.columns, grid.rows, mask).filter(
    (cells) => cells.length >= LEAST_CELLS && cells.some((i) => beyond[i]! > NOISE_TIMES.peak),
  )
  const examined = seen.reduce((count, value) => count + (Number.isNaN(value) ? 0 : 1), 0)
  const covered = regions.reduce((sum, cells) => sum + cells.length, 0)
  return {
    defects: regions.map((cells) => classifyDefect(cells, residual, grid, onCard)),
    coveredShare: examined > 0 ? covered / examined : 0,
    examinedMm2: examined * CELL_MM ** 2,
  }
}

/** Size of the slope from one neighbour to the other, a mm. @param step from one cell to the next in that direction */
const steepness = (values: Float64Array, step: number): Float64Array =>
  values.map((value, i) => Math.abs((values[i + step] ?? value) - (values[i - step] ?? value)) / (2 * CELL_MM))

/** The prediction moved to where the target is seen: two of Newton's steps on the squares of what is left. */
function alignedPrediction(
  seen: Float64Array,
  problem: PredictedFrom,
  model: FittedWindow['model'],
  grid: TargetGrid,
): Float64Array {
  let shift: readonly [number, number] = [0, 0]
  const predict = predictTarget(problem, model, grid)
  let predicted = predict(shift)
  for (let step = 0; step < 2; step++) {
    let [xx, xy, yy, xr, yr] = [0, 0, 0, 0, 0]
    for (let row = 1; row < grid.rows - 1; row++)
      for (let column = 1; column < grid.columns - 1; column++) {
        const i = row * grid.columns + column
        const left = seen[i]! - predicted[i]!
        if (Number.isNaN(left)) continue
        const gx = (predicted[i + 1]! - predicted[i - 1]!) / (2 * CELL_MM)
        const gy = (predicted[i + grid.columns]! - predicted[i - grid.columns]!) / (2 * CELL_MM)
        xx += gx * gx
        xy += gx * gy
        yy += gy * gy
        xr -= gx * left
        yr -= gy * left
      }
    const determinant = xx * yy - xy * xy
    if (!(determinant > 0)) return predicted
    const limit = problem.target.fine.pitchMm / 4
    const within = (mm: number) => Math.min(limit, Math.max(-limit, mm))
    shift = [within(shift[0] + (xr * yy - yr * xy) / determinant), within(shift[1] + (yr * xx - xr * xy) / determinant)]
    predicted = predict(shift)
  }
  return predicted
}
