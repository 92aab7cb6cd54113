import { refuse, type Outcome } from '../outcome.js'
import { minimizeSquares, type ParameterPrior } from '../statistics/levenberg-marquardt.js'
import { normalStep } from '../statistics/normal-step.js'
import type { EdgeProfile } from './edge-profile.js'

/** Edges of a run of alternating light and dark bars, fitted to a profile. */
export interface EdgeFit {
  /** Shape (m), mm, ascending. */
  readonly edgesMm: readonly number[]
  /** Shape (m + 1), light of each bar from the first, left of every edge, to the last. */
  readonly levels: readonly number[]
  /** Standard deviation of the edges' Gaussian blur, mm. */
  readonly blurMm: number
  /** Root mean square misfit, in units of paper light. */
  readonly residual: number
  /** The fitted profile at the profile's positions. */
  readonly fitted: Float64Array
}

export interface EdgeFitOptions {
  /** Blur where it starts; held near it when `blurSpreadMm` is given. */
  readonly blurMm: number
  /** Prior standard uncertainty of the blur, mm. Default: free. */
  readonly blurSpreadMm?: number
  /** Known light of every second bar, those between the first and second edge, the third and fourth...: default free. */
  readonly innerLevel?: { readonly value: number; readonly standardUncertainty: number }
}

/**
 * Blurred-edge fit: light(x) = L_0 + sum_j (L_j+1 - L_j) Phi((x - e_j) / s), all edges and levels free, one blur.
 *
 * Every bar keeps its own level, since shadows on the paper below change the light from one space to the next. Least
 * squares over the binned profile, each bin weighted by its pixels; within 1.2 of the Cramer-Rao bound on drawn
 * gratings of 40 um pixels (`tests/analysis/lines`).
 *
 * @param profile light along the bars
 * @param startMm shape (m), expected edges, ascending, each within about a blur of the truth
 * @returns edges, levels and blur, or a refusal: `edges-not-found`
 */
export function fitEdges(profile: EdgeProfile, startMm: readonly number[], options: EdgeFitOptions): Outcome<EdgeFit> {
  const m = startMm.length
  const n = profile.positionMm.length
  const levelCount = m + 1
  const blurIndex = m + levelCount
  const size = blurIndex + 1
  if (n < size) return refuse('edges-not-found', 'Photograph from nearer.', `${n} samples for ${size} unknowns`)
  const start = [...startMm, ...startLevels(profile, startMm), Math.log(options.blurMm)]
  const weights = profile.count.map(weightOf)
  const fit = minimizeSquares(evaluateEdges.bind(undefined, profile, weights), start, n, {
    priors: priorsOf(options, m, blurIndex),
    maximumIterations: 100,
    tolerance: 1e-6,
  })
  if (!fit.ok) return refuse('edges-not-found', 'Ink the coupon evenly and focus on it.', fit.refusal.code)
  const p = fit.value.parameters
  const edgesMm = Array.from(p.subarray(0, m))
  if (edgesMm.some((edge, j) => j > 0 && edge <= edgesMm[j - 1]!))
    return refuse('edges-not-found', 'Ink the coupon evenly and focus on it.', 'fitted edges cross each other')
  const fitted = profile.light.slice()
  let [squares, total] = [0, 0]
  for (let i = 0; i < n; i++) {
    fitted[i]! += fit.value.residuals[i]! / weights[i]!
    squares += profile.count[i]! * (fitted[i]! - profile.light[i]!) ** 2
    total += profile.count[i]!
  }
  return {
    ok: true,
    value: {
      edgesMm,
      levels: Array.from(p.subarray(m, m + levelCount)),
      blurMm: Math.exp(p[blurIndex]!),
      residual: Math.sqrt(squares / total),
      fitted,
    },
  }
}

const PER_ROOT_2PI = 1 / Math.sqrt(2 * Math.PI)

const weightOf = (count: number): number => Math.sqrt(count / 0.0004)

/** Parameters: the edges, ascending, the levels between them, ln of the blur. */
function evaluateEdges(
  { positionMm, light }: EdgeProfile,
  weights: Float64Array,
  p: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  jacobian.fill(0)
  const size = p.length
  const m = (size - 2) / 2
  const blurIndex = size - 1
  const blur = Math.exp(p[blurIndex]!)
  const reach = 5 * blur
  // Bins and edges both ascend: those that lie behind at one bin lie behind at the next.
  let behind = 0
  for (let i = 0; i < positionMm.length; i++) {
    const x = positionMm[i]!
    const w = weights[i]!
    const row = i * size
    while (behind < m && x - p[behind]! > reach) behind++
    let level = p[m + behind]!
    jacobian[row + m + behind] = w
    for (let j = behind; j < m; j++) {
      const d = x - p[j]!
      if (d < -reach) break
      const step = p[m + j + 1]! - p[m + j]!
      const u = d / blur
      const phi = normalStep(u)
      const density = Math.exp(-0.5 * u * u) * PER_ROOT_2PI * step
      level += step * phi
      jacobian[row + j] = (-density / blur) * w
      jacobian[row + m + j] = jacobian[row + m + j]! - phi * w
      jacobian[row + m + j + 1] = phi * w
      jacobian[row + blurIndex] = jacobian[row + blurIndex]! - density * u * w
    }
    residuals[i] = (level - light[i]!) * w
  }
}

function priorsOf(
  { blurMm, blurSpreadMm, innerLevel }: EdgeFitOptions,
  m: number,
  blurIndex: number,
): ParameterPrior[] {
  const priors: ParameterPrior[] = []
  if (blurSpreadMm !== undefined)
    priors.push({ index: blurIndex, mean: Math.log(blurMm), standardUncertainty: blurSpreadMm / blurMm })
  if (innerLevel)
    for (let level = 1; level < m; level += 2)
      priors.push({ index: m + level, mean: innerLevel.value, standardUncertainty: innerLevel.standardUncertainty })
  return priors
}

/** Mean light of the middle half of each bar; the outer bars reach to the ends of the profile. */
function startLevels({ positionMm, light }: EdgeProfile, edges: readonly number[]): number[] {
  const bounds = [positionMm[0] ?? 0, ...edges, positionMm[positionMm.length - 1] ?? 0]
  const levels: number[] = []
  for (let j = 1; j < bounds.length; j++) {
    const [left, right] = [bounds[j - 1]!, bounds[j]!]
    const margin = (right - left) / 4
    let [sum, count] = [0, 0]
    let nearest = Infinity
    let fallback = 0
    for (let i = 0; i < positionMm.length; i++) {
      const x = positionMm[i]!
      if (x > left + margin && x < right - margin) {
        sum += light[i]!
        count++
      }
      const away = Math.abs(x - (left + right) / 2)
      if (away < nearest) {
        nearest = away
        fallback = light[i]!
      }
    }
    levels.push(count > 0 ? sum / count : fallback)
  }
  return levels
}
