import type { ReadLadder } from '../../server/api/readings.js'

type ProcessOf = NonNullable<ReadLadder['process']>['responses'][number]['of']

/** What each coupon answers, with the uncertainty of differences between coupons: a photo shifts all of its growth alike. */
export const measuredOf = ({ rungs }: Pick<ReadLadder, 'rungs'>, of: ProcessOf) =>
  rungs.flatMap((rung) => {
    if (!('growthUm' in rung)) return []
    const { growthUm } = rung
    const measured =
      of === 'growthUm' ? { value: growthUm.value, standardUncertainty: growthUm.withinPhotoUncertainty } : rung[of]
    return measured ? [{ slot: rung.slot, measured }] : []
  })
