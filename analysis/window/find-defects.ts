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
  const { predicted, slopes } = alignedPrediction(seen, predictTarget(problem, model, grid), target.fine.pitchMm, grid)
  const left = new Float64Array(seen.length)
  const level = new Float64Array(seen.length)
  const steepX = new Float64Array(seen.length)
  const steepY = new Float64Array(seen.length)
  for (let i = 0; i < seen.length; i++) {
    level[i] = predicted[i]! / bare.white
    left[i] = seen[i]! / bare.white - level[i]!
    steepX[i] = Math.abs(slopes.x[i]!) / bare.white
    steepY[i] = Math.abs(slopes.y[i]!) / bare.white
  }
  const residual = flattened(left, grid)
  const noise = noiseOf(residual, level, { x: steepX, y: steepY, cellMm: CELL_MM })
  const floor = (finished ? FLOOR.finished : FLOOR.plain) / NOISE_TIMES.cell
  const beyond = new Float64Array(residual.length)
  const mask = new Uint8Array(residual.length)
  let examined = 0
  for (let i = 0; i < residual.length; i++) {
    const size = Math.abs(residual[i]!)
    if (Number.isNaN(size)) continue
    examined++
    const unit = Math.max(noise[i]!, floor)
    if (size <= NOISE_TIMES.cell * unit) continue
    let streak = 0
    for (let row = -STREAK_ROWS; row <= STREAK_ROWS; row++)
      streak = Math.max(streak, steepY[i + row * grid.columns] ?? 0)
    beyond[i] = (size - Math.hypot(EDGE_MM.x * steepX[i]!, EDGE_MM.y * streak)) / unit
    if (beyond[i]! > NOISE_TIMES.cell) mask[i] = 255
  }
  const regions = maskComponents(grid.columns, grid.rows, mask).filter(
    (cells) => cells.length >= LEAST_CELLS && cells.some((i) => beyond[i]! > NOISE_TIMES.peak),
  )
  const covered = regions.reduce((sum, cells) => sum + cells.length, 0)
  return {
    defects: regions.map((cells) => classifyDefect(cells, residual, grid, onCard)),
    coveredShare: examined > 0 ? covered / examined : 0,
    examinedMm2: examined * CELL_MM ** 2,
  }
}

/** Slopes of a prediction across each cell, a mm; 0 along the grid's border. */
interface Slopes {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** The prediction moved to where the target is seen: two of Newton's steps on the squares of what is left. */
function alignedPrediction(
  seen: Float64Array,
  predict: (shiftMm: readonly [number, number]) => Float64Array,
  pitchMm: number,
  grid: TargetGrid,
): { readonly predicted: Float64Array; readonly slopes: Slopes } {
  const limit = pitchMm / 4
  const within = (mm: number) => Math.min(limit, Math.max(-limit, mm))
  const asPlaced = predict([0, 0])
  const [x, y] = newtonStep(seen, asPlaced, slopesOf(asPlaced, grid))
  const predicted = predict([within(x), within(y)])
  const slopes = slopesOf(predicted, grid)
  // What is left to move is so little that the slopes will do.
  const [moreX, moreY] = newtonStep(seen, predicted, slopes)
  for (let i = 0; i < predicted.length; i++)
    predicted[i]! -= within(moreX) * slopes.x[i]! + within(moreY) * slopes.y[i]!
  return { predicted, slopes }
}

function slopesOf(values: Float64Array, { columns, rows }: TargetGrid): Slopes {
  const slopes = { x: new Float64Array(values.length), y: new Float64Array(values.length) }
  for (let row = 1; row < rows - 1; row++)
    for (let i = row * columns + 1; i < (row + 1) * columns - 1; i++) {
      slopes.x[i] = (values[i + 1]! - values[i - 1]!) / (2 * CELL_MM)
      slopes.y[i] = (values[i + columns]! - values[i - columns]!) / (2 * CELL_MM)
    }
  return slopes
}

/** How far, mm, the prediction has to move to lie where the target is seen; nowhere when nothing tells. */
function newtonStep(seen: Float64Array, predicted: Float64Array, { x, y }: Slopes): readonly [number, number] {
  let xx = 0
  let xy = 0
  let yy = 0
  let xr = 0
  let yr = 0
  for (let i = 0; i < seen.length; i++) {
    const left = seen[i]! - predicted[i]!
    if (Number.isNaN(left)) continue
    const gx = x[i]!
    const gy = y[i]!
    xx += gx * gx
    xy += gx * gy
    yy += gy * gy
    xr -= gx * left
    yr -= gy * left
  }
  const determinant = xx * yy - xy * xy
  return determinant > 0 ? [(xr * yy - yr * xy) / determinant, (yr * xx - xr * xy) / determinant] : [0, 0]
}
