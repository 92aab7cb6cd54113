import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import type { BarTarget } from '../layout/schema.js'
import type { Outcome } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import { CELL_MODEL, lightTerms } from './cell-model.js'
import type { MeasuredTarget } from './measure-target.js'
import type { TargetPlan } from './target-cells.js'

/** What the bare copy of a target tells of paper, ink and light. */
export interface BareLight {
  /** Light on bare white paper in the middle of the copy. */
  readonly white: number
  /** Light of solid black, share of white. */
  readonly black: number
  /** Amplitude of the bars' fundamental, share of the white paper's light beside them. */
  readonly amplitude: { readonly fine: number; readonly medium: number; readonly across: number }
}

/** Light near a coupon changes across its bare copy by up to a tenth and more: it lies at the edge of its shadow. */
const SLOPE_SPREAD = 0.1

/** Fits level, slopes and bend of the light, and the black, to the cells of a bare target. */
export function fitBareLight(
  bare: MeasuredTarget,
  plan: TargetPlan,
  target: BarTarget,
  inkGainMm: number,
): Outcome<BareLight> {
  const white = Math.max(...bare.cells.map(({ value }) => value))
  const terms = plan.cells.map(({ areaMm }) => lightTerms(areaMm, plan))
  const covered = plan.cells.map(({ group }) => CELL_MODEL.coverage(group, target, inkGainMm))
  const units = bare.cells.map(
    ({ value, standardUncertainty }) => 1 / Math.hypot(standardUncertainty, CELL_MODEL.floor * value),
  )
  const fit = minimizeSquares(
    evaluateCells.bind(undefined, bare.cells, units, terms, covered),
    [white, 0, 0, 0, 0, 0, 0.06],
    plan.cells.length,
    { priors: [1, 2, 3, 4, 5].map((index) => ({ index, mean: 0, standardUncertainty: SLOPE_SPREAD * white })) },
  )
  if (!fit.ok) return fit
  const p = fit.value.parameters
  const black = p[6]!
  // Bars are compared with the light of their own place, which their mean gives.
  const beside = (group: 'fine' | 'medium') => {
    const i = plan.cells.findIndex((cell) => cell.group === group)
    return bare.cells[i]!.value / (1 - covered[i]! * (1 - black))
  }
  const acrossLight = lightTerms(plan.barsMm.across, plan).reduce((sum, term, j) => sum + term * p[j]!, 0)
  return {
    ok: true,
    value: {
      white: p[0]!,
      black,
      amplitude: {
        fine: bare.fine.value / beside('fine'),
        medium: bare.medium.value / beside('medium'),
        across: bare.across.value / acrossLight,
      },
    },
  }
}

/** Parameters: the coefficients of `lightTerms`, and the light of black. */
function evaluateCells(
  cells: readonly Estimate[],
  units: readonly number[],
  terms: readonly (readonly number[])[],
  covered: readonly number[],
  p: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  for (let i = 0, at = 0; i < cells.length; i++, at += 7) {
    const { value } = cells[i]!
    const own = terms[i]!
    const unit = units[i]!
    let light = 0
    for (let j = 0; j < 6; j++) light += own[j]! * p[j]!
    const share = 1 - covered[i]! * (1 - p[6]!)
    residuals[i] = (light * share - value) * unit
    for (let j = 0; j < 6; j++) jacobian[at + j] = own[j]! * share * unit
    jacobian[at + 6] = light * covered[i]! * unit
  }
}
