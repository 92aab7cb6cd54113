import type { MeasuredValue } from '../result.js'

/** One quantity of one coupon, as each photograph that shows it gives it. */
export type Repeats = readonly { readonly photo: number; readonly measured: MeasuredValue }[]

/**
 * Mean of repeats, a coupon at a time. What is stated for a photograph is taken as common to all of them and does not
 * average; the photographs' disagreement, pooled over the coupons since each shows little of it, does.
 *
 *   u^2 = (sum w u)^2 + s^2 sum w^2,   s^2 = sum (x - mean)^2 / sum (n - 1)
 *
 * @param coupons each with one repeat or more
 * @param weights shape (photos), above 0
 * @see JCGM 100:2008 (GUM) 4.2 and H.3.6 for the pooled scatter, 5.2.2 for fully correlated terms
 * @example repeatMeans([[{ photo: 0, measured: a }, { photo: 1, measured: b }]], [0.5, 0.5])
 */
export function repeatMeans(coupons: readonly Repeats[], weights: readonly number[]): MeasuredValue[] {
  const means = coupons.map((repeats) => {
    const total = repeats.reduce((sum, { photo }) => sum + weights[photo]!, 0)
    const shares = repeats.map(({ photo }) => weights[photo]! / total)
    const weighted = (of: (measured: MeasuredValue) => number) =>
      repeats.reduce((sum, { measured }, i) => sum + shares[i]! * of(measured), 0)
    return {
      value: weighted(({ value }) => value),
      stated: weighted(({ standardUncertainty }) => standardUncertainty),
      sharesSquared: shares.reduce((sum, share) => sum + share * share, 0),
    }
  })
  const freedom = coupons.reduce((sum, repeats) => sum + repeats.length - 1, 0)
  const squares = coupons.reduce((sum, repeats) => {
    const plain = repeats.reduce((total, { measured }) => total + measured.value, 0) / repeats.length
    return sum + repeats.reduce((total, { measured }) => total + (measured.value - plain) ** 2, 0)
  }, 0)
  const variance = freedom > 0 ? squares / freedom : 0
  return means.map(({ value, stated, sharesSquared }) => ({
    value,
    standardUncertainty: Math.sqrt(stated ** 2 + variance * sharesSquared),
  }))
}
