import type { WindowDetail } from '../result.js'
import type { Estimate } from '../statistics/estimate.js'
import { combineUncertainty } from '../statistics/uncertainty.js'

/** Our weights: haze counts in full, what smoothing could win back a fifth, each unit of b* a point. A judgement, no source. */
const WEIGHTS = { haze: 100, surface: 20, deltaB: 1 } as const
const FORMULA = `100 - ${WEIGHTS.haze} x haze index - ${WEIGHTS.surface} x surface index - ${WEIGHTS.deltaB} x |delta b*|, between 0 and 100`

/** One number from 0 (nothing is seen) to 100 (as if there were no resin), for those who want one. */
export function clarityScore(parts: { haze: Estimate; surface: Estimate; deltaB: Estimate }): WindowDetail['score'] {
  const value =
    100 -
    WEIGHTS.haze * parts.haze.value -
    WEIGHTS.surface * parts.surface.value -
    WEIGHTS.deltaB * Math.abs(parts.deltaB.value)
  const { standardUncertainty } = combineUncertainty(
    (['haze', 'surface', 'deltaB'] as const).map((part) => ({
      standardUncertainty: parts[part].standardUncertainty,
      sensitivity: WEIGHTS[part],
    })),
  )
  return { value: Math.min(100, Math.max(0, value)), standardUncertainty, formula: FORMULA }
}
