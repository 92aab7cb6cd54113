import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'
import { coverageFactor } from '../statistics/quantiles.js'
import { fitExposureTrend } from './exposure-trend.js'

export interface PrintThroughRung {
  readonly exposureS: number
  /** How far the later-printed side of a gap has sunk into it, um, averaged over the gaps that stayed open. */
  readonly printThroughUm: Estimate
}

/**
 * Effective penetration depth Dp from print-through: its slope on ln(exposure).
 *
 * Light that passes a down-facing layer cures resin to the depth Dp ln(E / Ec) below it, so between two exposures the
 * depth grows by Dp ln(t2 / t1). Layers above add a constant that depends on layer height alone, and any offset shared
 * by the photo drops out too. "Effective": of the cured stack in this printer, not of the liquid in a bottle.
 *
 * @returns Dp, um, or a refusal: `too-few-rungs` below three different exposures, `no-rise-with-exposure` when the slope
 *   does not exceed zero at 95 %
 * @see P. F. Jacobs, Fundamentals of stereolithography, Proc. SFF Symp. (1992) 196 [from memory]
 */
export function fitPrintThrough(rungs: readonly PrintThroughRung[]): Outcome<Estimate> {
  const fit = fitExposureTrend(
    rungs.map(({ exposureS, printThroughUm }) => ({ exposureS, measured: printThroughUm })),
    'straight',
  )
  if (!fit.ok) return fit
  const { change, rangeS } = fit.value
  const span = Math.log(rangeS[1] / rangeS[0])
  const slope = makeEstimate(change.value / span, change.standardUncertainty / span, change.degreesOfFreedom)
  if (slope.value <= coverageFactor(slope.degreesOfFreedom) * slope.standardUncertainty) {
    return refuse(
      'no-rise-with-exposure',
      'Print a ladder over a wider range of exposures.',
      `print-through rises by ${slope.value.toFixed(0)} um per ln(exposure), u = ${slope.standardUncertainty.toFixed(0)} um`,
    )
  }
  return { ok: true, value: slope }
}
