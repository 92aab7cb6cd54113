import erf from '@stdlib/math-base-special-erf'
import type { RegionMm } from '../image/region.js'
import { CELL_MODEL, lightTerms } from './cell-model.js'
import type { FittedWindow, WindowProblem } from './fit-window.js'
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
  const black = plan.black.map(({ x0, x1, y0, y1 }) => ({ x0: x0 - gain, x1: x1 + gain, y0: y0 - gain, y1: y1 + gain }))
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
      const [x, y] = placeOf(grid, column, row)
      const terms = lightTerms({ x0: x, x1: x, y0: y, y1: y }, plan)
      for (let j = 0; j < terms.length; j++) smooth[i]! += terms[j]! * light[j]!
      mirrored[i] = veil + veilSlope * terms[1]!
    }
  return (shiftMm) => {
    const covered = around.slice()
    const blurs = [Math.hypot(lens, blurMm), Math.hypot(lens, smearMm)] as const
    addBlurred(covered, black, grid, 1 - scattered, blurs, shiftMm)
    return covered.map((share, i) => smooth[i]! * (1 - share * (1 - bare.black)) + mirrored[i]!)
  }
}

const placeOf = ({ areaMm, cellMm }: TargetGrid, column: number, row: number): readonly [number, number] => [
  areaMm.x0 + (column + 0.5) * cellMm,
  areaMm.y0 + (row + 0.5) * cellMm,
]

/** Adds a share of what blurred black rectangles cover of each cell. */
function addBlurred(
  covered: Float64Array,
  black: readonly RegionMm[],
  grid: TargetGrid,
  share: number,
  [xDeviation, yDeviation]: readonly [number, number],
  [xShift, yShift]: readonly [number, number],
): void {
  const { columns, rows } = grid
  const along = new Float64Array(columns)
  for (const r of black) {
    let [first, last] = [columns, -1]
    for (let column = 0; column < columns; column++) {
      along[column] = stripe(placeOf(grid, column, 0)[0] - xShift, r.x0, r.x1, xDeviation)
      if (along[column]! < NOTHING) continue
      first = Math.min(first, column)
      last = column
    }
    for (let row = 0; row < rows; row++) {
      const part = share * stripe(placeOf(grid, 0, row)[1] - yShift, r.y0, r.y1, yDeviation)
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
  0.5 * (erf(((at - p) / s) * Math.SQRT1_2) - erf(((at - q) / s) * Math.SQRT1_2))
