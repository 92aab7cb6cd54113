import { colourOfResin } from '../../analysis/window/yellowness.js'

const THICKNESS_MM = 3

/**
 * Change of b* that white light through the plate, once, would show.
 *
 * @param absorptionPerMm natural logarithm a mm for red, green, blue
 */
export function trueDeltaB({
  absorptionPerMm,
}: {
  readonly absorptionPerMm: readonly [number, number, number]
}): number {
  const [red, green, blue] = absorptionPerMm.map((perMm) => -perMm * THICKNESS_MM * Math.LOG10E) as [
    number,
    number,
    number,
  ]
  const path = { thicknessMm: THICKNESS_MM, pathMm: THICKNESS_MM, relativeUncertainty: 0 }
  return colourOfResin([red, green, blue], 0, path).deltaB.value
}
