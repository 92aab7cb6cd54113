import { requirePositive } from './radiant-exposure.js'

/** Dose at one depth below the front face, J/cm2. */
export interface DoseAtDepth {
  readonly depthMm: number
  readonly fromFrontJPerCm2: number
  readonly fromBackJPerCm2: number
  readonly bothJPerCm2: number
}

/**
 * Dose through a plate lit from both faces, Beer-Lambert: H(z) = H0 [exp(-z / D) + exp(-(L - z) / D)].
 *
 * @param doseJPerCm2 H0, at each face
 * @param penetrationMm D of the cured resin at the lamp's wavelength, mm
 * @param steps points less one, spread evenly from face to face
 * @returns shape (steps + 1)
 * @throws {RangeError} if an argument is not above 0
 */
export function doseThroughPlate(
  doseJPerCm2: number,
  thicknessMm: number,
  penetrationMm: number,
  steps = 40,
): DoseAtDepth[] {
  requirePositive('doseThroughPlate', { doseJPerCm2, thicknessMm, penetrationMm, steps })
  return Array.from({ length: steps + 1 }, (_, i) => {
    const depthMm = (thicknessMm * i) / steps
    const fromFrontJPerCm2 = doseJPerCm2 * Math.exp(-depthMm / penetrationMm)
    const fromBackJPerCm2 = doseJPerCm2 * Math.exp((depthMm - thicknessMm) / penetrationMm)
    return { depthMm, fromFrontJPerCm2, fromBackJPerCm2, bothJPerCm2: fromFrontJPerCm2 + fromBackJPerCm2 }
  })
}
