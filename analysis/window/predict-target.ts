import type { RegionMm } from '../image/region.js'
import { CELL_MODEL, lightAtPlace } from './cell-model.js'
import type { FittedWindow } from './fit-window.js'
import type { WindowProblem } from './window-model.js'
import { normalStep } from '../statistics/normal-step.js'
import { LOBE_VARIANCES } from './scatter-lobe.js'

/** Square cells over a part of the target's plane, row by row from its lower left corner, in the target's own mm. */
export interface TargetGrid {
  readonly areaMm: RegionMm
  readonly cellMm: number
  readonly columns: number
  readonly rows: number
}

export type PredictedFrom = Pick<WindowProblem, 'bare' | 'plan' | 'target' | 'inkGainMm'>

const SHARPEST_LENS_MM = 0.02

/** Share of black that contributes less is left out. */
const NOTHING = 1e-6
/** A blurred edge is that close to its end beyond so many standard deviations. */
const REACH_DEVIATIONS = 5

/**
 * Light that the fitted window would show of its target, in the middle of each cell, on the sensor's scale.
 *
 * The model of {@link FittedWindow}, place by place: what comes straight through, blurred by the lens and narrowly by the
 * window, what is scattered from all around, and what is mirrored.
 *
 * @returns the prediction for a target seen off its place by so many mm. The shift moves what comes straight through;
 *   the rest changes so slowly with place that it is worked out once.
 */
export function predictTarget(
  problem: PredictedFrom,
  { light, veil, veilSlope, scattered, widthMm, blurMm, smearMm }: FittedWindow['model'],
  grid: TargetGrid,
): (shiftMm: readonly [number, number]) => Float64Array {
  const { bare, plan } = problem
  const gain = problem.inkGainMm
  const black = sharingRows(
    plan.black.map(({ x0, x1, y0, y1 }) => ({ x0: x0 - gain, x1: x1 + gain, y0: y0 - gain, y1: y1 + gain })),
  )
  const lens = lensMm(problem)
  const around = new Float64Array(grid.columns * grid.rows)
  for (const variance of LOBE_VARIANCES) {
    const deviation = widthMm * Math.sqrt(variance)
    addBlurred(around, black, grid, scattered / LOBE_VARIANCES.length, [deviation, deviation], [0, 0])
  }
  const smooth = new Float64Array(around.length)
  const mirrored = new Float64Array(around.length)
  for (let row = 0, i = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++, i++) {
      const x = columnMm(grid, column) / plan.sizeMm.x - 0.5
      const y = rowMm(grid, row) / plan.sizeMm.y - 0.5
      smooth[i] = lightAtPlace(x, y, light)
      mirrored[i] = veil + veilSlope * x
    }
  const blurs = [Math.hypot(lens, blurMm), Math.hypot(lens, smearMm)] as const
  return predictAt.bind(undefined, { around, smooth, mirrored, black, blackLight: bare.black, scattered, blurs }, grid)
}

/** Shapes (rows, columns). */
interface Surroundings {
  /** Coverage as seen in scattered light, times its share. */
  readonly around: Float64Array
  readonly smooth: Float64Array
  readonly mirrored: Float64Array
  readonly black: readonly (readonly RegionMm[])[]
  readonly blackLight: number
  readonly scattered: number
  readonly blurs: readonly [number, number]
}

function predictAt(
  { around, smooth, mirrored, black, blackLight, scattered, blurs }: Surroundings,
  grid: TargetGrid,
  shiftMm: readonly [number, number],
): Float64Array {
  const predicted = around.slice()
  addBlurred(predicted, black, grid, 1 - scattered, blurs, shiftMm)
  for (let i = 0; i < predicted.length; i++)
    predicted[i] = smooth[i]! * (1 - predicted[i]! * (1 - blackLight)) + mirrored[i]!
  return predicted
}

/** Middle of a column, the column at a place, and the middle of a row of cells. */
const columnMm = ({ areaMm, cellMm }: TargetGrid, column: number) => areaMm.x0 + (column + 0.5) * cellMm
const columnAt = ({ areaMm, cellMm }: TargetGrid, xMm: number) => Math.floor((xMm - areaMm.x0) / cellMm)
const rowMm = ({ areaMm, cellMm }: TargetGrid, row: number) => areaMm.y0 + (row + 0.5) * cellMm

/** Black rectangles in groups of the same height: the bars of a grating are blurred along it in one go. */
function sharingRows(black: readonly RegionMm[]): (readonly RegionMm[])[] {
  const groups = new Map<string, RegionMm[]>()
  for (const r of black) {
    const key = `${r.y0} ${r.y1}`
    groups.set(key, [...(groups.get(key) ?? []), r])
  }
  return [...groups.values()]
}

/** Adds a share of what blurred black rectangles cover of each cell. */
function addBlurred(
  covered: Float64Array,
  black: readonly (readonly RegionMm[])[],
  grid: TargetGrid,
  share: number,
  [xDeviation, yDeviation]: readonly [number, number],
  [xShift, yShift]: readonly [number, number],
): void {
  const { columns, rows } = grid
  for (const group of black) {
    const along = new Float64Array(columns)
    let first = columns
    let last = -1
    for (const { x0, x1 } of group) {
      const reach = REACH_DEVIATIONS * xDeviation
      const from = Math.max(0, columnAt(grid, x0 + xShift - reach))
      const to = Math.min(columns - 1, columnAt(grid, x1 + xShift + reach))
      for (let column = from; column <= to; column++)
        along[column]! += stripe(columnMm(grid, column) - xShift, x0, x1, xDeviation)
      first = Math.min(first, from)
      last = Math.max(last, to)
    }
    const { y0, y1 } = group[0]!
    for (let row = 0; row < rows; row++) {
      const part = share * stripe(rowMm(grid, row) - yShift, y0, y1, yDeviation)
      if (part < NOTHING) continue
      for (let column = first, i = row * columns + first; column <= last; column++, i++)
        covered[i]! += part * along[column]!
    }
  }
}

/** Blur of the photograph itself: what the bare bars lost of the amplitude of sharp ones. */
function lensMm({ bare, target, inkGainMm }: PredictedFrom): number {
  const coverage = CELL_MODEL.coverage('fine', target, inkGainMm)
  const sharp = ((1 - bare.black) * 2 * Math.sin(Math.PI * coverage)) / Math.PI
  const kept = Math.min(1, bare.amplitude.fine / sharp)
  return Math.max(SHARPEST_LENS_MM, (target.fine.pitchMm * Math.sqrt(-Math.log(kept) / 2)) / Math.PI)
}

/** Share of a stripe from p to q, blurred with deviation s, at a place. */
const stripe = (at: number, p: number, q: number, s: number): number =>
  normalStep((at - p) / s) - normalStep((at - q) / s)
