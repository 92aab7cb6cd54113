import { median } from 'simple-statistics'
import type { TargetGrid } from './predict-target.js'

/** Wider than a bubble, narrower than shadows and what the model of the light leaves. */
const NEIGHBOURHOOD_MM = 1
/** What sticks out further tells nothing of the level around it. */
const CUT = 0.05
/** Rises more than this from cell to cell: an edge, where the model and the pixels are less sure. */
const STEEP = 0.04
const FEWEST = 30
/** Of a normal distribution: standard deviation over the median absolute deviation. */
const NORMAL_MAD = 1.4826

/** Residuals less their mean over the neighbourhood; places without one stay without. */
export function flattened(residual: Float64Array, { columns, rows, cellMm }: TargetGrid): Float64Array {
  const reach = Math.round(NEIGHBOURHOOD_MM / cellMm)
  const width = columns + 1
  const [sums, counts] = [new Float64Array(width * (rows + 1)), new Float64Array(width * (rows + 1))]
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const value = residual[row * columns + column]!
      const known = !Number.isNaN(value)
      const at = (row + 1) * width + column + 1
      for (const [table, add] of [
        [sums, known ? Math.min(CUT, Math.max(-CUT, value)) : 0],
        [counts, known ? 1 : 0],
      ] as const)
        table[at] = add + table[at - 1]! + table[at - width]! - table[at - width - 1]!
    }
  return residual.map((value, i) => {
    const [column, row] = [i % columns, Math.floor(i / columns)]
    const [left, right] = [Math.max(0, column - reach), Math.min(columns, column + reach + 1)]
    const [low, high] = [Math.max(0, row - reach), Math.min(rows, row + reach + 1)]
    const within = (table: Float64Array) =>
      table[high * width + right]! -
      table[low * width + right]! -
      table[high * width + left]! +
      table[low * width + left]!
    return value - within(sums) / Math.max(1, within(counts))
  })
}

/**
 * Standard deviation of the noise of each place, from the middle spread of all places like it: dark, bright, edge.
 *
 * @param level predicted, share of the paper's light
 * @param rise of the prediction across a cell, share of the paper's light
 */
export function noiseOf(residual: Float64Array, level: Float64Array, rise: Float64Array): Float64Array {
  const kind = (i: number) => (rise[i]! > STEEP ? 'edge' : level[i]! > 0.5 * brightest ? 'bright' : 'dark')
  const brightest = level.reduce((most, value) => Math.max(most, value), 0)
  const spread = { edge: 0, bright: 0, dark: 0 }
  for (const name of ['edge', 'bright', 'dark'] as const) {
    const own = Array.from(residual).filter((value, i) => !Number.isNaN(value) && kind(i) === name)
    spread[name] = own.length < FEWEST ? Infinity : NORMAL_MAD * median(own.map(Math.abs))
  }
  return residual.map((_, i) => spread[kind(i)])
}
