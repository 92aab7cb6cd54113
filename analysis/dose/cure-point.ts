import type { Estimate } from '../statistics/estimate.js'

/** One cured patch. */
export interface CurePoint {
  readonly doseMjPerCm2: number
  readonly depthUm: number
}

/** Whether the curve bends: the quadratic term in ln(dose). */
export interface Curvature {
  /** um per squared unit of ln(dose); null below four different doses. */
  readonly quadraticUm: Estimate | null
  readonly verdict: 'straight' | 'saturates' | 'steepens' | 'too-few-doses'
}
