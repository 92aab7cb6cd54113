import { FACTORS } from './factors.js'
import type { LadderDesign } from './schema.js'

/** At most four digits, three of them decimals: what fits on a coupon's leg and beside a slot. */
const PRINTABLE_EXPOSURE = /^(?=(\D*\d){1,4}$)\d{1,3}(\.\d{1,3})?$/
/** Whole tenths of a micrometre for layers, hundredths for pixels, so that the card's code stays small. */
const PRINTABLE_LAYER = /^\d{1,3}(\.\d)?$/
const PRINTABLE_PIXEL = /^\d{1,3}(\.\d{1,2})?$/

/** A number as it is written short: at most four digits, so that it fits on a coupon's leg. */
const PRINTABLE_LEVEL = /^(?=(\D*\d){1,4}$)\d{1,4}(\.\d{1,2})?$/
/** Keeps the code of a card with levels within the size of the longest with exposures. */
const MOST_LEVEL_CHARACTERS = 40

/**
 * Why a design, valid by its schema, cannot be printed; undefined when it can.
 *
 * @returns `<what is needed>, got <value>`
 */
export function designFault(design: LadderDesign): string | undefined {
  const { layerHeightUm, pixelPitchUm, exposuresS } = design
  const exposure = exposuresS.find((s) => !PRINTABLE_EXPOSURE.test(String(s)))
  if (exposure !== undefined) return `exposures of at most four digits, got ${exposure} s`
  if (!PRINTABLE_LAYER.test(String(layerHeightUm)))
    return `a layer height in tenths of a micrometre, got ${layerHeightUm} um`
  if (!PRINTABLE_PIXEL.test(String(pixelPitchUm)))
    return `a pixel pitch in hundredths of a micrometre, got ${pixelPitchUm} um`
  return levelsFault(design)
}

function levelsFault({ exposuresS, factor, levels }: LadderDesign): string | undefined {
  if (factor === undefined && levels === undefined) return undefined
  if (factor === undefined) return 'what the levels are of, got levels alone'
  if (levels === undefined) return `a level for each rung, got ${factor} alone`
  if (levels.length !== exposuresS.length) return `${exposuresS.length} levels, one a rung, got ${levels.length}`
  if (new Set(exposuresS).size > 1)
    return `one exposure for all rungs of a ladder of ${factor}, got ${exposuresS.join(', ')} s`
  if (new Set(levels).size < 2) return `at least two different levels, got ${levels.join(', ')}`
  const { unit } = FACTORS[factor]
  const wrong = levels.find((level) =>
    unit === '' ? factor === 'grit' && /^\d/.test(level) : !isPrintableNumber(level),
  )
  if (wrong !== undefined) {
    return unit === ''
      ? `the scale with each grit, such as P800 or J2000, got ${wrong}`
      : `levels in ${unit} of at most four digits, got ${wrong}`
  }
  const characters = levels.join('/').length
  return characters > MOST_LEVEL_CHARACTERS
    ? `levels of ${MOST_LEVEL_CHARACTERS} characters together, got ${characters}`
    : undefined
}

/** Written as short as can be, so that a level has one name only. */
const isPrintableNumber = (level: string) => PRINTABLE_LEVEL.test(level) && String(Number(level)) === level
