import { sharedUncertaintyUm } from './coupon/growth-budget.js'
import type { GrowthRung } from './dose/coupon-readings.js'
import type { LadderRung } from './dose/suggestion.js'
import type { CombinedRung, Rung } from './result.js'

/** A rung of one photograph or of several. */
export type AnyRung = Rung | CombinedRung
export type AnyReadRung = Extract<AnyRung, { growthUm: unknown }>

/** A coupon as the growth fit takes it: what differs from coupon to coupon, grating by grating. */
export const growthRungOf = (rung: AnyReadRung, turnedSlots: readonly number[] = []): GrowthRung => ({
  slot: rung.slot,
  exposureS: rung.exposureS,
  growthUm: { value: rung.growthUm.value, standardUncertainty: rung.growthUm.withinPhotoUncertainty },
  gratings: rung.gratings.map(({ group, growthUm }) => ({ group, growthUm })),
  axis: turnedSlots.includes(rung.slot) ? 'y' : 'x',
})

/** The rungs of a photograph as the dose response takes them, and what shifts all of them alike. */
export function doseRungs(
  rungs: readonly AnyRung[],
  turnedSlots: readonly number[] = [],
): {
  readonly rungs: readonly LadderRung[]
  readonly commonUncertaintyUm: number
} {
  const read = rungs.filter((rung): rung is AnyReadRung => 'growthUm' in rung)
  return {
    rungs: rungs.map((rung) =>
      'growthUm' in rung
        ? {
            ...growthRungOf(rung, turnedSlots),
            smallestLineUm: rung.smallestLineUm,
            smallestSpaceUm: rung.smallestSpaceUm,
            isolated: rung.isolated,
            haze: rung.haze,
            yellownessPerMm: rung.yellownessPerMm,
          }
        : { exposureS: rung.exposureS, closed: rung.refusal.code === 'closed' },
    ),
    commonUncertaintyUm: Math.max(0, ...read.map((rung) => sharedUncertaintyUm(rung.uncertaintyBudget))),
  }
}
