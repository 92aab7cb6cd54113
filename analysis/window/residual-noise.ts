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
  // Sums over everything below and left of a corner.
  const [sums, counts] = [new Float64Array(width * (rows + 1)), new Float64Array(width * (rows + 1))]
  for (let row = 0; row < rows; row++) {
    let [sum, count] = [0, 0]
    for (let column = 0; column < columns; column++) {
      const value = residual[row * columns + column]!
      if (!Number.isNaN(value)) {
        sum += Math.min(CUT, Math.max(-CUT, value))
        count++
      }
      const at = (row + 1) * width + column + 1
      sums[at] = sum + sums[at - width]!
      counts[at] = count + counts[at - width]!
    }
  }
  const flat = new Float64Array(residual.length)
  for (let row = 0; row < rows; row++) {
    const low = Math.max(0, row - reach) * width
    const high = Math.min(rows, row + reach + 1) * width
    for (let column = 0; column < columns; column++) {
      const left = Math.max(0, column - reach)
      const right = Math.min(columns, column + reach + 1)
      const sum = sums[high + right]! - sums[low + right]! - sums[high + left]! + sums[low + left]!
      const count = counts[high + right]! - counts[low + right]! - counts[high + left]! + counts[low + left]!
      flat[row * columns + column] = residual[row * columns + column]! - sum / Math.max(1, count)
    }
  }
  return flat
}

/** Share of the paper's light that the prediction changes by, a mm each way. */
interface Steepness {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly cellMm: number
}

/**
 * Standard deviation of the noise of each place, from the middle spread of all places like it: dark, bright, edge.
 *
 * @param level predicted, share of the paper's light
 */
export function noiseOf(residual: Float64Array, level: Float64Array, { x, y, cellMm }: Steepness): Float64Array {
  let half = 0
  for (let i = 0; i < level.length; i++) half = Math.max(half, level[i]! / 2)
  const steep = (STEEP / cellMm) ** 2
  const kinds = new Uint8Array(level.length)
  const sizes: number[][] = [[], [], []]
  for (let i = 0; i < level.length; i++) {
    const kind = x[i]! ** 2 + y[i]! ** 2 > steep ? 0 : level[i]! > half ? 1 : 2
    kinds[i] = kind
    if (!Number.isNaN(residual[i])) sizes[kind]!.push(Math.abs(residual[i]!))
  }
  const spread = sizes.map((own) => (own.length < FEWEST ? Infinity : NORMAL_MAD * median(own)))
  const noise = new Float64Array(residual.length)
  for (let i = 0; i < noise.length; i++) noise[i] = spread[kinds[i]!]!
  return noise
}
