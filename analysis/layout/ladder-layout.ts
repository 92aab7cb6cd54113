import { cardLayout } from './card.js'
import { designFault } from './design-limits.js'
import { couponLayout } from './coupon.js'
import { labelBoxesMm } from './label.js'
import type { LadderDesign, LadderLayout } from './schema.js'

/**
 * Everything that is printed for one ladder, in mm: coupon, labels, card.
 *
 * @param design ladder id, layer height and pixel pitch in um, exposures in s
 * @throws {RangeError} if the design cannot be printed, see `designFault`
 * @example ladderLayout({ ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.5] })
 */
export function ladderLayout(design: LadderDesign): LadderLayout {
  const fault = designFault(design)
  if (fault !== undefined) throw new RangeError(`ladderLayout needs ${fault}`)
  const coupon = couponLayout(design)
  return {
    schema: 'stepglass-layout-1',
    design,
    coupon,
    labels: design.exposuresS.map((exposureS, i) => {
      const below = design.levels ? raised(design.levels[i]!) : String(exposureS)
      return {
        slot: i + 1,
        text: `${i + 1} ${below}`.trim(),
        boxesMm: [
          ...labelBoxesMm(String(i + 1), { y0Mm: 2.2, z0Mm: 4.6, cellMm: 0.55 }),
          ...labelBoxesMm(below, { y0Mm: 2.2, z0Mm: 0.9, cellMm: 0.55 }),
        ],
      }
    }),
    card: cardLayout(design, coupon.sizeMm.x),
  }
}

/** What can be raised of a level: a number; a name stands on the card alone. */
const raised = (level: string) => (/^[\d.]+$/.test(level) ? level : '')
