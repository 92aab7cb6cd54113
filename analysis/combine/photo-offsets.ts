import { fitLinear } from '../statistics/linear-least-squares.js'

/** Growth of one coupon on one photograph. */
export interface RepeatedGrowth {
  /** Index of the photograph. */
  readonly photo: number
  readonly slot: number
  readonly growthUm: number
  /** What differs between coupons and between photographs, um: standard uncertainty. */
  readonly noiseUm: number
}

export interface PhotoOffsets {
  /** By slot: growth, um, and the standard uncertainty that the disagreement of the photographs leaves. */
  readonly slots: ReadonlyMap<number, { readonly growthUm: number; readonly standardUncertainty: number }>
  /** Shape (photos): what each photograph adds to all coupons alike, um; their weighted mean is 0. */
  readonly offsetsUm: readonly number[]
  /** Whether the photographs share coupons enough to tell offset from growth. */
  readonly told: boolean
  /** Scatter of the coupons about growth and offset, over the stated noise; null with nothing left to judge by. */
  readonly birgeRatio: number | null
}

/**
 * Growth of each coupon and offset of each photograph, from readings of the same coupons on several photographs.
 *
 *   x[s, k] = growth[s] + offset[k] + noise,   sum of weight[k] offset[k] = 0
 *
 * by weighted least squares, which is the two-way layout without interaction and takes missing cells as they come. The
 * noise is as stated or as the residuals scatter, whichever is more. Where no coupon links two groups of photographs,
 * offsets are taken as 0.
 *
 * @param weights shape (photos), above 0, sum 1
 * @see H. Scheffé, The Analysis of Variance (Wiley 1959) 4.1 [from memory]
 */
export function fitPhotoOffsets(readings: readonly RepeatedGrowth[], weights: readonly number[]): PhotoOffsets {
  const slots = [...new Set(readings.map(({ slot }) => slot))].sort((a, b) => a - b)
  const last = weights.length - 1
  const offsetColumns = (photo: number) =>
    Array.from({ length: last }, (_, k) => (photo === last ? -weights[k]! / weights[last]! : Number(photo === k)))
  const solve = (withOffsets: boolean) =>
    fitLinear(
      readings.map(({ slot, photo }) => [
        ...slots.map((s) => Number(s === slot)),
        ...(withOffsets ? offsetColumns(photo) : []),
      ]),
      readings.map(({ growthUm }) => growthUm),
      readings.map(({ noiseUm }) => noiseUm ** -2),
    )
  const full = solve(true)
  const fit = full.ok ? full : solve(false)
  if (!fit.ok) throw new Error(`fitPhotoOffsets needs readings, got ${readings.length}: ${fit.refusal.code}`)
  const { coefficients, covariance, rss, residualDegreesOfFreedom } = fit.value
  const free = coefficients.slice(slots.length)
  const closing = free.reduce((sum, offset, k) => sum - (weights[k]! / weights[last]!) * offset, 0)
  return {
    slots: new Map(
      slots.map((slot, i) => [
        slot,
        { growthUm: coefficients[i]!, standardUncertainty: Math.sqrt(covariance[i]![i]!) },
      ]),
    ),
    offsetsUm: full.ok ? [...free, closing] : weights.map(() => 0),
    told: full.ok,
    birgeRatio: residualDegreesOfFreedom > 0 ? Math.sqrt(rss / residualDegreesOfFreedom) : null,
  }
}
