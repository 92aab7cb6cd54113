import { mean, median, quantile, sampleStandardDeviation } from 'simple-statistics'
import { coverageFactor } from '../../analysis/statistics/quantiles.js'
import type { CouponRecord, Judged, PhotoRecord } from './records.js'

/** No term of the result states degrees of freedom: its 95 % interval is that of a normal distribution. */
const COVERAGE_FACTOR = coverageFactor(undefined)

export const inside = ({ error, uncertainty }: Judged): boolean => Math.abs(error) <= COVERAGE_FACTOR * uncertainty

/** Share of what holds, 0 to 1; NaN of nothing. */
export const share = (facts: readonly boolean[]): number => facts.filter(Boolean).length / facts.length

export const coverage = (judged: readonly Judged[]): number => share(judged.map(inside))

export const couponsOf = (photos: readonly PhotoRecord[]): CouponRecord[] => photos.flatMap(({ coupons }) => coupons)

export const growth =
  (which: 'absoluteUm' | 'shownUm') =>
  (coupon: CouponRecord): Judged => ({ error: coupon.growthErrorUm, uncertainty: coupon[which] })

export const printThrough = (coupons: readonly CouponRecord[]): Judged[] =>
  coupons.flatMap(({ printThroughErrorUm: error, printThroughUm: uncertainty }) =>
    error === undefined || uncertainty === undefined ? [] : [{ error, uncertainty }],
  )

/** Differences of growth between any two coupons of the same photograph, um per side. */
export function differences(photos: readonly PhotoRecord[], which: 'withinUm' | 'shownWithinUm'): Judged[] {
  return photos.flatMap(({ coupons }) =>
    coupons.flatMap((a, i) =>
      coupons.slice(i + 1).map((b) => ({
        error: a.growthErrorUm - b.growthErrorUm,
        uncertainty: Math.hypot(a[which], b[which]),
      })),
    ),
  )
}

/** Error that all coupons of each photograph share, of a line's width in pixels, without its sign. */
export const offsetsPx = (photos: readonly PhotoRecord[]): number[] =>
  photos.flatMap(({ coupons, umPerPx }) =>
    coupons.length > 0 && umPerPx !== undefined
      ? [Math.abs((2 * mean(coupons.map(({ growthErrorUm }) => growthErrorUm))) / umPerPx)]
      : [],
  )

export const bias = (values: readonly number[]): number => mean([...values])
export const scatter = (values: readonly number[]): number => sampleStandardDeviation([...values])
/** Root mean square of differences, whose mean is 0 by their making. */
export const middle = (values: readonly number[]): number => median([...values])
export const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((value) => value ** 2)))
export const upper = (values: readonly number[]): number => quantile(values.map(Math.abs), 0.95)

type Means = NonNullable<PhotoRecord['means']>

/** Scatter of the mean line width over the repeats against the bound, root mean square over the gratings. */
export const overBound = (means: Means): { sdUm: number; boundUm: number } => ({
  sdUm: scatter(means.map(({ errorUm }) => errorUm)),
  boundUm: rms(means.map(({ boundUm }) => boundUm)),
})

/** The same of what the gratings of one photograph do not share. @param photos shape (photos, gratings) */
export function withinOverBound(photos: readonly Means[]): { sdUm: number; boundUm: number } {
  const left = photos.flatMap((means) => {
    const shared = mean(means.map(({ errorUm }) => errorUm))
    return means.map(({ errorUm }) => (errorUm - shared) ** 2)
  })
  const sdUm = Math.sqrt(left.reduce((sum, square) => sum + square, 0) / (left.length - photos.length))
  return { sdUm, boundUm: overBound(photos.flat()).boundUm }
}
