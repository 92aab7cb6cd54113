import type { CouponLabels, LabelledReading, ReadRung } from '../../analysis/index.js'
import { madeUpReading } from '../server/support/made-up-reading.js'

/** A reading that holds nothing but haze, made up. */
export function labelledLadder({
  photo,
  ladderId,
  labels,
  date,
  haze,
}: {
  readonly photo: string
  readonly ladderId: string
  readonly labels: CouponLabels
  readonly date: string
  readonly haze: readonly { readonly exposureS: number; readonly value: number }[]
}): LabelledReading {
  const like = madeUpReading.rungs.find((rung): rung is ReadRung => 'growthUm' in rung)!
  return {
    photo,
    labels,
    date,
    reading: {
      ...madeUpReading,
      design: { ...madeUpReading.design, ladderId, exposuresS: haze.map(({ exposureS }) => exposureS) },
      rungs: haze.map(({ exposureS, value }, i) => ({
        ...like,
        slot: i + 1,
        exposureS,
        haze: { value, standardUncertainty: 0.012 },
      })),
    },
  }
}
