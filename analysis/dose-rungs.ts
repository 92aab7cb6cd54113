import { sharedUncertaintyUm } from './coupon/growth-budget.js'
import type { LadderRung } from './dose/suggestion.js'
import type { CombinedRung, Rung } from './result.js'

/** A rung of one photograph or of several. */
export type AnyRung = Rung | CombinedRung
export type AnyReadRung = Extract<AnyRung, { growthUm: unknown }>

/** Growth with what differs from coupon to coupon as its uncertainty. */
export const growthWithin = ({ growthUm }: AnyReadRung) => ({
  value: growthUm.value,
  standardUncertainty: growthUm.withinPhotoUncertainty,
})

/** The rungs of a photograph as the dose response takes them, and what shifts all of them alike. */
export function doseRungs(rungs: readonly AnyRung[]): {
  readonly rungs: readonly LadderRung[]
  readonly commonUncertaintyUm: number
} {
  const read = rungs.filter((rung): rung is AnyReadRung => 'growthUm' in rung)
  return {
    rungs: rungs.map((rung) =>
      'growthUm' in rung
        ? {
            exposureS: rung.exposureS,
            growthUm: growthWithin(rung),
            smallestLineUm: rung.smallestLineUm,
            smallestSpaceUm: rung.smallestSpaceUm,
            isolated: rung.isolated,
            haze: rung.haze,
          }
        : { exposureS: rung.exposureS, closed: rung.refusal.code === 'closed' },
    ),
    commonUncertaintyUm: Math.max(0, ...read.map((rung) => sharedUncertaintyUm(rung.uncertaintyBudget))),
  }
}
