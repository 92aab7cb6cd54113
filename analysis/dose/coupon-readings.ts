import { mean } from 'simple-statistics'
import type { Estimate } from '../statistics/estimate.js'
import type { Cluster } from '../statistics/random-effect.js'

export type Axis = 'x' | 'y'

/** One coupon of a ladder: its exposure and how far its walls stand out. */
export interface GrowthRung {
  readonly exposureS: number
  /**
   * Lateral growth per side, um; positive: solid too big; the mean of its gratings. Its uncertainty is what differs from
   * rung to rung; what shifts all of them alike belongs in `commonUncertaintyUm`.
   */
  readonly growthUm: Estimate
  /** Growth of each grating with the scatter of its lines. Absent: only their mean is known. */
  readonly gratings?: readonly { readonly group: string; readonly growthUm: Estimate }[] | undefined
  /** Axis of the mask along which the walls move. Default x; y when the coupon was printed turned by 90 degrees. */
  readonly axis?: Axis | undefined
  /** Place on the card; carried along. */
  readonly slot?: number | undefined
}

/** What is fitted beside the shape: offsets of gratings and of axes, all from the mean of their kind. */
export interface OffsetPlan {
  readonly groups: readonly string[]
  /** Whether turned coupons have an offset of their own. */
  readonly axes: boolean
}

/** Below it the scatter of a grating's ten lines is luck. */
const LEAST_SCATTER_UM = 0.05

/** Gratings that at least one rung reads, and both axes where both were printed. */
export function planOffsets(rungs: readonly GrowthRung[]): OffsetPlan {
  const groups = [...new Set(rungs.flatMap(({ gratings }) => gratings?.map(({ group }) => group) ?? []))].sort()
  const axes = new Set(rungs.map(({ axis }) => axis ?? 'x'))
  const everyRung = rungs.every(({ gratings }) => gratings && gratings.length > 0)
  return { groups: everyRung && groups.length > 1 ? groups : [], axes: axes.size > 1 }
}

/** Row of the offsets' design for a grating of a coupon; without `group` for the mean of all gratings. */
export function offsetRow({ groups, axes }: OffsetPlan, axis: Axis | undefined, group?: string): number[] {
  // Offsets add up to zero over the gratings, and so over the axes: the last is minus the sum of the others.
  const last = groups.at(-1)
  const ofGroup = groups
    .slice(0, -1)
    .map((other) => (group === other ? 1 : group !== undefined && group === last ? -1 : 0))
  return [...ofGroup, ...(axes ? [axis === undefined ? 0 : axis === 'y' ? -0.5 : 0.5] : [])]
}

/**
 * Readings of a coupon as the fit takes them: each grating with its own scatter, and what the coupon adds to all of them.
 *
 * @param shapeRow derivatives of the growth by the parameters of the shape, the first columns of the design
 */
export function clusterOf(rung: GrowthRung, plan: OffsetPlan, shapeRow: readonly number[]): Cluster {
  const axis = rung.axis ?? 'x'
  const variance = rung.growthUm.standardUncertainty ** 2
  if (plan.groups.length === 0) {
    return {
      y: [rung.growthUm.value],
      variances: [variance],
      sharedVariance: 0,
      design: [[...shapeRow, ...offsetRow(plan, axis)]],
    }
  }
  const gratings = rung.gratings!
  const variances = gratings.map(({ growthUm }) => Math.max(LEAST_SCATTER_UM, growthUm.standardUncertainty) ** 2)
  // What was corrected for the coupon as a whole is in its mean and not in its gratings.
  const correction = rung.growthUm.value - mean(gratings.map(({ growthUm }) => growthUm.value))
  return {
    y: gratings.map(({ growthUm }) => growthUm.value + correction),
    variances,
    sharedVariance: Math.max(0, variance - mean(variances) / variances.length),
    design: gratings.map(({ group }) => [...shapeRow, ...offsetRow(plan, axis, group)]),
  }
}
