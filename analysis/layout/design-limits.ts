import type { LadderDesign } from './schema.js'

/** At most four digits, three of them decimals: what fits on a coupon's leg and beside a slot. */
const PRINTABLE_EXPOSURE = /^(?=(\D*\d){1,4}$)\d{1,3}(\.\d{1,3})?$/
/** Whole tenths of a micrometre for layers, hundredths for pixels, so that the card's code stays small. */
const PRINTABLE_LAYER = /^\d{1,3}(\.\d)?$/
const PRINTABLE_PIXEL = /^\d{1,3}(\.\d{1,2})?$/

/**
 * Why a design, valid by its schema, cannot be printed; undefined when it can.
 *
 * @returns `<what is needed>, got <value>`
 */
export function designFault({ layerHeightUm, pixelPitchUm, exposuresS }: LadderDesign): string | undefined {
  const exposure = exposuresS.find((s) => !PRINTABLE_EXPOSURE.test(String(s)))
  if (exposure !== undefined) return `exposures of at most four digits, got ${exposure} s`
  if (!PRINTABLE_LAYER.test(String(layerHeightUm)))
    return `a layer height in tenths of a micrometre, got ${layerHeightUm} um`
  if (!PRINTABLE_PIXEL.test(String(pixelPitchUm)))
    return `a pixel pitch in hundredths of a micrometre, got ${pixelPitchUm} um`
  return undefined
}
