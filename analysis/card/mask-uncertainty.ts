import type { Tone } from '../image/linear-light.js'
import { edgeShiftPx } from './edge-shift.js'
import type { FittedSharpening } from './fit-sharpening.js'

/** Of the shift of masks of 0.3 to 1 and 1 to 1.5 px, taken out, drawn photographs keep 12 % at most: half the width of a rectangular distribution. */
const LEFT_OF_TAKEN_OUT = 0.12 / Math.sqrt(3)

/** What the fitted mask leaves open of where edges lie, pixels per side. */
export interface MaskUncertainty {
  /** Of all edges of a photograph alike. */
  readonly sharedPx: number
  /** Of edges that differ in blur as those on the card do. */
  readonly couponPx: number
}

/**
 * Standard uncertainty of edges from what the fit of the mask cannot tell.
 *
 * u^2 = b^2 + J C J', J the shift's slope in amount and log radius, C their covariance; b is a part of the likeliest
 * mask's shift where it was taken out, and all of it where it was too weak to be told from none. Edges that differ in
 * blur by a share d differ in the same by d times its slope in log blur.
 *
 * @param takenOut whether profiles were freed of the fitted mask
 */
export function maskUncertainty(fitted: FittedSharpening, tone: Tone, takenOut: boolean): MaskUncertainty {
  const { radiusPx, covariance: c, edge, blurSpread } = fitted
  const amount = Math.max(0, fitted.amount)
  /** What is left of the likeliest mask's shift, slope of the shift in amount, in log radius. */
  const atBlur = (blurPx: number) => {
    const shift = (da: number, dr: number) =>
      edgeShiftPx({ ...edge, blurPx }, { tone, mask: { amount: amount + da, radiusPx: radiusPx * Math.exp(dr) } }, tone)
    const here = shift(0, 0)
    return [
      takenOut ? LEFT_OF_TAKEN_OUT * here : here,
      (shift(STEP, 0) - here) / STEP,
      (shift(0, STEP) - here) / STEP,
    ] as const
  }
  const variance = ([bias, byAmount, byRadius]: readonly [number, number, number]) =>
    bias ** 2 + byAmount ** 2 * c[0] + byAmount * byRadius * (c[1] + c[2]) + byRadius ** 2 * c[3]
  const here = atBlur(edge.blurPx)
  const blurrier = atBlur(edge.blurPx * (1 + STEP))
  const slope = here.map((value, i) => (blurrier[i]! - value) / STEP) as unknown as typeof here
  return { sharedPx: Math.sqrt(variance(here)), couponPx: blurSpread * Math.sqrt(variance(slope)) }
}

const STEP = 0.05
