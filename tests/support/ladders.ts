import type { GrowthRung } from '../../analysis/dose/coupon-readings.js'

/** Rungs from exposures and growths in um, each with the same standard uncertainty. */
export function makeRungs(pairs: readonly (readonly [number, number])[], standardUncertainty = 1): GrowthRung[] {
  return pairs.map(([exposureS, value]) => ({ exposureS, growthUm: { value, standardUncertainty } }))
}
