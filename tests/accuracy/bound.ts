import erf from '@stdlib/math-base-special-erf'
import { Matrix, solve } from 'ml-matrix'

/** Blurred bars as a camera samples them. Lengths in one unit. */
export interface BarsModel {
  /** Shape (m), ascending. */
  readonly edges: readonly number[]
  /** Shape (m + 1), light of each bar. */
  readonly levels: readonly number[]
  /** Standard deviation of the edges' Gaussian blur. */
  readonly blur: number
  readonly from: number
  readonly to: number
  /** Independent samples a unit of length, all rows together. */
  readonly samplesPerLength: number
  /** Variance of one sample at a light. */
  readonly variance: (light: number) => number
}

/**
 * Cramer-Rao bound of a linear combination of edges, all edges, levels and the blur unknown: no unbiased estimator
 * scatters less.
 *
 *   F = sum over samples of (dm/dp)(dm/dp)^T / variance,   sd >= sqrt(c^T F^-1 c)
 *
 * @param weights shape (m), c
 * @returns standard deviation, in the unit of the edges
 */
export function edgeBound(model: BarsModel, weights: readonly number[]): number {
  const { edges, levels, blur, from, to, samplesPerLength, variance } = model
  const m = edges.length
  const size = 2 * m + 2
  const step = blur / 20
  const information = Matrix.zeros(size, size)
  for (let x = from + step / 2; x < to; x += step) {
    const gradient = new Float64Array(size)
    let light = levels[0]!
    gradient[m] = 1
    edges.forEach((edge, j) => {
      const u = (x - edge) / blur
      if (u < -8) return
      const rise = levels[j + 1]! - levels[j]!
      const phi = 0.5 * (1 + erf(u * Math.SQRT1_2))
      const density = (Math.exp(-0.5 * u * u) / Math.sqrt(2 * Math.PI) / blur) * rise
      light += rise * phi
      gradient[j] = -density
      gradient[m + j] = gradient[m + j]! - phi
      gradient[m + j + 1] = phi
      gradient[size - 1] = gradient[size - 1]! - density * u
    })
    const weight = (samplesPerLength * step) / variance(light)
    for (let a = 0; a < size; a++)
      for (let b = 0; b < size; b++) information.set(a, b, information.get(a, b) + weight * gradient[a]! * gradient[b]!)
  }
  const c = [...weights, ...Array<number>(size - m).fill(0)]
  const spread = solve(information, Matrix.columnVector(c)).to1DArray()
  return Math.sqrt(c.reduce((sum, value, i) => sum + value * spread[i]!, 0))
}
