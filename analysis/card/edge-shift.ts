import { lightFromCode, type Tone } from '../image/linear-light.js'
import type { Sharpening } from '../image/sharpening.js'
import { fitEdges } from '../lines/edge-fit.js'
import { sharpenedEdge, type BlurredEdge } from './sharpened-edge.js'

/** Half of a bar of the gratings at 40 um a pixel: as much of an edge as its fit sees. */
const REACH_PX = 5
const STEP_PX = 0.25
export const NO_MASK: Sharpening = { amount: 0, radiusPx: 1 }

/**
 * How far an edge moves, as a fit of a blurred step to light reads it: pixels, towards the dark.
 *
 * @param camera what made code values of the edge's light: a tone curve, then a mask over code values, where the step is
 *   lopsided, so that in light its middle has moved
 * @param decodedBy the tone curve by which they are turned into light again
 */
export function edgeShiftPx(
  edge: BlurredEdge,
  { tone, mask }: { readonly tone: Tone; readonly mask: Sharpening },
  decodedBy: Tone,
): number {
  const n = (2 * REACH_PX) / STEP_PX + 1
  const positionMm = Float64Array.from({ length: n }, (_, i) => i * STEP_PX - REACH_PX)
  const codes = sharpenedEdge(positionMm, tone, edge, mask)
  const light = codes.slice()
  for (let i = 0; i < n; i++) light[i] = lightFromCode(Math.min(1, Math.max(0, codes[i]!)), decodedBy)
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
