import { rungText } from '../layout/factors.js'
import type { LadderDesign } from '../layout/schema.js'
import type { ReadLadder, ReadRung } from '../result.js'
import type { Estimate } from '../statistics/estimate.js'
import { spreadOfPhoto } from '../window/compare-photos.js'
import type { Observation } from './observation.js'
import type { CompareBy, CompareOf, CouponLabels } from './schema.js'

/** A reading with what is known of its coupons. */
export interface LabelledReading {
  readonly reading: ReadLadder
  /** Name of its photograph; photographs of one name are the same. */
  readonly photo: string
  readonly labels: CouponLabels
  /** Of single coupons, over those of all. */
  readonly slotLabels?: Readonly<Record<number, CouponLabels>>
  /** When the photograph was taken, ISO 8601; absent when not known. */
  readonly date?: string | undefined
}

/** An observation with where it comes from. */
export interface Response extends Observation {
  readonly ladderId: string
  readonly slot: number
  readonly date?: string | undefined
}

export interface Responses {
  readonly responses: readonly Response[]
  /** Coupons without a label to compare by. */
  readonly unlabelled: number
  /** Coupons whose response could not be read. */
  readonly unread: number
}

const read: Readonly<Record<CompareOf, (rung: ReadRung) => Estimate | undefined>> = {
  haze: ({ haze }) => haze,
  surface: ({ window }) => window?.surface,
  yellowness: ({ yellownessPerMm }) => yellownessPerMm,
  score: ({ window }) => window?.score,
}

/** The responses of all coupons that have a label to be compared by. */
export function collectResponses(
  readings: readonly LabelledReading[],
  { by, of, exposureS: only }: { readonly by: CompareBy; readonly of: CompareOf; readonly exposureS?: number },
): Responses {
  const responses: Response[] = []
  let [unlabelled, unread] = [0, 0]
  for (const { reading, photo, labels, slotLabels, date } of readings) {
    const { ladderId } = reading.design
    const spread = spreadOfPhoto(reading)[of]
    for (const rung of reading.rungs) {
      const { slot, exposureS } = rung
      if (only !== undefined && exposureS !== only) continue
      const own = { ...labels, ...levelLabels(reading.design, slot), ...slotLabels?.[slot] }
      const group = groupOf(by, own, reading.design, slot)
      const measured = 'growthUm' in rung ? read[of](rung) : undefined
      if (!measured) unread++
      else if (group === undefined) unlabelled++
      else {
        responses.push({
          group,
          value: measured.value,
          standardUncertainty: measured.standardUncertainty,
          photo,
          photoUncertainty: spread,
          coupon: `${ladderId} ${slot}`,
          bottle: own.bottle,
          exposureS,
          ladderId,
          slot,
          date,
        })
      }
    }
  }
  if (by === 'exposure') responses.sort((a, b) => a.exposureS - b.exposureS)
  return { responses, unlabelled, unread }
}

/** What the level of a coupon says of its treatment. */
function levelLabels(design: LadderDesign, slot: number): CouponLabels {
  switch (design.factor) {
    case 'post-cure-time':
    case 'post-cure-stages':
      return { postCure: rungText(design, slot) }
    case 'grit':
    case 'coat':
      return { finish: rungText(design, slot) }
    default:
      return {}
  }
}

function groupOf(by: CompareBy, labels: CouponLabels, design: LadderDesign, slot: number): string | undefined {
  switch (by) {
    case 'exposure':
      return `${design.exposuresS[slot - 1]} s`
    case 'level':
      return design.factor && rungText(design, slot)
    case 'ladder':
      return design.ladderId
    case 'post-cure':
      return labels.postCure
    default:
      return labels[by]
  }
}
