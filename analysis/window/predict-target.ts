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

/**
 * Light that the fitted window would show of its target, in the middle of each cell, on the sensor's scale.
 *
 * The model of {@link FittedWindow}, place by place: what comes straight through, blurred by the lens and narrowly by the
 * window, what is scattered from all around, and what is mirrored.
 *
 * @param shiftMm how far the target is seen off its place
 */
export function predictTarget(
  problem: PredictedFrom,
  { light, veil, veilSlope, scattered, widthMm, blurMm, smearMm }: FittedWindow['model'],
  grid: TargetGrid,
  shiftMm: readonly [number, number] = [0, 0],
): Float64Array {
  const { bare, plan } = problem
  const gain = problem.inkGainMm
  const black = plan.black.map(({ x0, x1, y0, y1 }) => ({ x0: x0 - gain, x1: x1 + gain, y0: y0 - gain, y1: y1 + gain }))
  const lens = lensMm(problem)
  const { columns, rows } = grid
  const xAt = (column: number) => grid.areaMm.x0 + (column + 0.5) * grid.cellMm - shiftMm[0]
  const yAt = (row: number) => grid.areaMm.y0 + (row + 0.5) * grid.cellMm - shiftMm[1]
  const covered = new Float64Array(columns * rows)
  const addBlurred = (share: number, xDeviation: number, yDeviation: number) => {
    for (const r of black) {
      const along = Float64Array.from({ length: columns }, (_, i) => stripe(xAt(i), r.x0, r.x1, xDeviation))
      for (let row = 0; row < rows; row++) {
        const part = share * stripe(yAt(row), r.y0, r.y1, yDeviation)
        if (part > 1e-6)
          for (let column = 0; column < columns; column++) covered[row * columns + column]! += part * along[column]!
      }
    }
  }
  addBlurred(1 - scattered, Math.hypot(lens, blurMm), Math.hypot(lens, smearMm))
  for (const variance of LOBE_VARIANCES) {
    const deviation = widthMm * Math.sqrt(variance)
    addBlurred(scattered / LOBE_VARIANCES.length, deviation, deviation)
  }
  return covered.map((share, i) => {
    const [x, y] = [xAt(i % columns), yAt(Math.floor(i / columns))]
    const terms = lightTerms({ x0: x, x1: x, y0: y, y1: y }, plan)
    const smooth = terms.reduce((sum, term, j) => sum + term * light[j]!, 0)
    return smooth * (1 - share * (1 - bare.black)) + veil + veilSlope * terms[1]!
  })
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
