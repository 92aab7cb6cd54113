import type { BlurredEdge } from './sharpened-edge.js'
import type { FittedTone } from './fit-tone.js'
import { edgeShiftPx, NO_MASK } from './edge-shift.js'

const STEP = 0.01

/**
 * Standard uncertainty of edges from what the patches leave open of the tone curve, pixels per side.
 *
 * u^2 = J C J', J the slope of an edge's place in the exponent's logarithm and the contrast, C their covariance.
 *
 * @param edge one of the photograph's, as the lens left it
 */
export function toneUncertaintyPx({ tone, covariance: c }: FittedTone, edge: BlurredEdge): number {
  const slope = (logExponent: number, contrast: number) => {
    const other = { exponent: tone.exponent * Math.exp(logExponent), contrast: tone.contrast + contrast }
    return edgeShiftPx(edge, { tone, mask: NO_MASK }, other) / STEP
  }
  const [byExponent, byContrast] = [slope(STEP, 0), slope(0, STEP)]
  return Math.sqrt(byExponent ** 2 * c[0] + byExponent * byContrast * (c[1] + c[2]) + byContrast ** 2 * c[3])
}
