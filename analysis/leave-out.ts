import { conclude } from './conclude.js'
import { DEFAULT_OPTIONS } from './default-options.js'
import { refuse } from './outcome.js'
import type { MeasureOptions, ReadLadder, Rung } from './result.js'

/** A coupon that someone took out of the answer. */
export interface LeftOutSlot {
  readonly slot: number
  readonly reason: string
}

/**
 * A reading concluded anew, as if some of its coupons had not been read: fit, dose-to-size and suggestion come from the others.
 *
 * @param leftOut slots the ladder does not have are passed over
 * @param options those of the reading, or others that need no second look at the photograph
 * @returns the reading with the coupons refused as `left-out`
 */
export function leaveOut(
  ladder: ReadLadder,
  leftOut: readonly LeftOutSlot[],
  options: Partial<MeasureOptions>,
): ReadLadder {
  const rungs = ladder.rungs.map((rung): Rung => {
    const { slot, exposureS, outlinePx } = rung
    const found = leftOut.find((each) => each.slot === slot)
    if (!found || 'refusal' in rung) return rung
    const { refusal } = refuse('left-out', 'Take it in again if the reason no longer holds.', found.reason)
    return { slot, exposureS, outlinePx, refusal }
  })
  const {
    growthFit: _fit,
    penetrationDepthUm: _depth,
    windowTrends: _trends,
    survival: _survival,
    ...measured
  } = ladder
  const {
    doseToSize: _size,
    usableRange: _range,
    suggestion: _answer,
    noSuggestion: _none,
    process: _process,
    ...kept
  } = measured
  return {
    ...kept,
    rungs,
    ...conclude(ladder.design, rungs, { ...DEFAULT_OPTIONS, ...options }, ladder.caliper?.tabs.length),
  }
}
