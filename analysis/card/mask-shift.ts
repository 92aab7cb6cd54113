import { lightFromCode, type Tone } from '../image/linear-light.js'
import type { Sharpening } from '../image/sharpening.js'
import { fitEdges } from '../lines/edge-fit.js'
import type { FittedSharpening } from './fit-sharpening.js'
import { sharpenedEdge, type BlurredEdge } from './sharpened-edge.js'

/** Half of a bar of the gratings at 40 um a pixel: as much of an edge as its fit sees. */
const REACH_PX = 5
const STEP_PX = 0.25
/** Of the shift of masks of 0.3 to 1 and 1 to 1.5 px, taken out, drawn photographs keep 12 % at most; a camera's need not be Gaussian. */
const LEFT_OF_TAKEN_OUT = 0.1

/** What the fitted mask leaves open of where edges lie, pixels per side. */
export interface MaskUncertainty {
  /** Of all edges of a photograph alike. */
  readonly sharedPx: number
  /** Of edges that differ in blur as those on the card do. */
  readonly couponPx: number
}

/**
 * How far an unsharp mask moves an edge, as a fit of a blurred step to light reads it: pixels, towards the dark.
 *
 * The mask acts on code values, where the step is lopsided; in light its middle has moved.
 */
export function maskShiftPx(mask: Sharpening, edge: BlurredEdge, tone: Tone): number {
  const n = (2 * REACH_PX) / STEP_PX + 1
  const positionMm = Float64Array.from({ length: n }, (_, i) => i * STEP_PX - REACH_PX)
  const codes = sharpenedEdge(positionMm, tone, edge, mask)
  const light = codes.map((code) => lightFromCode(Math.min(1, Math.max(0, code)), tone))
  const profile = {
    positionMm,
    light,
    count: new Float64Array(n).fill(1),
    mmPerPx: 1,
    fromMm: -REACH_PX,
    toMm: REACH_PX,
  }
  const fit = fitEdges(profile, [0], { blurMm: edge.blurPx })
  return fit.ok ? -(fit.value.edgesMm[0] ?? 0) : 0
}

/**
 * Standard uncertainty of edges from what the fit of the mask cannot tell.
 *
 * u^2 = b^2 + J C J', J the shift's slope in amount and log radius, C their covariance; b is a tenth of the likeliest
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
      maskShiftPx({ amount: amount + da, radiusPx: radiusPx * Math.exp(dr) }, { ...edge, blurPx }, tone)
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
