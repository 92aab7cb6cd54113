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
      const accumulate = (table: Float64Array, add: number) => {
        table[at] = add + table[at - 1]! + table[at - width]! - table[at - width - 1]!
      }
      accumulate(sums, known ? Math.min(CUT, Math.max(-CUT, value)) : 0)
      accumulate(counts, known ? 1 : 0)
    }
  return residual.map((value, i) => {
    const column = i % columns
    const row = (i - column) / columns
    const left = Math.max(0, column - reach)
    const right = Math.min(columns, column + reach + 1)
    const low = Math.max(0, row - reach) * width
    const high = Math.min(rows, row + reach + 1) * width
    const within = (table: Float64Array) =>
      table[high + right]! - table[low + right]! - table[high + left]! + table[low + left]!
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
  const brightest = level.reduce((most, value) => Math.max(most, value), 0)
  const kinds = Uint8Array.from(level, (value, i) => (rise[i]! > STEEP ? 0 : value > 0.5 * brightest ? 1 : 2))
  const sizes: number[][] = [[], [], []]
  for (let i = 0; i < residual.length; i++)
    if (!Number.isNaN(residual[i])) sizes[kinds[i]!]!.push(Math.abs(residual[i]!))
  const spread = sizes.map((own) => (own.length < FEWEST ? Infinity : NORMAL_MAD * median(own)))
  return residual.map((_, i) => spread[kinds[i]!]!)
}
