import type { Outcome } from '../outcome.js'
import { intervalsAtMostZero } from '../statistics/sign-intervals.js'
import { seconds } from './dose-to-size.js'
import type { ExposureTrend } from './exposure-trend.js'
import type { Limit } from './limit.js'

/** How a limit of yellowness bounds the exposure. */
export interface YellownessBound {
  /** s, the exposures left. */
  readonly withinS: readonly [number, number]
  /** Why the limit has no say, or cannot be kept. */
  readonly limits: readonly Limit[]
  /** The limit, where it stopped an exposure. */
  readonly limitAt: (exposureS: number) => readonly Limit[]
}

/**
 * Exposures at which the trend of yellowness is expected to keep a limit: of several pieces the one nearest to
 * dose-to-size. Without a trend the limit has no say; where no exposure keeps it, it is named and let go.
 *
 * @param withinS exposures that other bounds leave
 */
export function boundByYellowness(
  { trend, mostPerMm }: { readonly trend: Outcome<ExposureTrend>; readonly mostPerMm: number },
  withinS: readonly [number, number],
  doseToSizeS: number,
): YellownessBound {
  const unbounded = (...limits: Limit[]): YellownessBound => ({ withinS, limits, limitAt: () => [] })
  const limit = (inWords: string): Limit => ({ by: 'yellowness', inWords })
  if (!trend.ok) return unbounded(limit('yellowness, of which too few rungs were read to keep its limit'))
  const { at, rangeS, verdict } = trend.value
  const [low, high] = [Math.max(withinS[0], rangeS[0]), Math.min(withinS[1], rangeS[1])]
  if (low > high) return unbounded(limit('yellowness, which was not read at the exposures that are left'))
  const most = `its limit of ${mostPerMm} per mm`
  const over = (u: number) => at(Math.exp(u)).value - mostPerMm
  if (verdict === 'no-trend') {
    const here = Math.log(Math.min(high, Math.max(low, doseToSizeS)))
    return over(here) > 0
      ? unbounded(limit(`yellowness, which is above ${most} and shows no trend with exposure to choose by`))
      : unbounded()
  }
  const distance = (piece: readonly [number, number]) =>
    Math.max(piece[0] - Math.log(doseToSizeS), Math.log(doseToSizeS) - piece[1], 0)
  const pieces = intervalsAtMostZero(over, Math.log(low), Math.log(high))
  const [piece] = pieces.sort((a, b) => distance(a) - distance(b))
  if (!piece) return unbounded(limit(`yellowness, which is above ${most} at every exposure that is left`))
  // Where the trend keeps the limit up to its end, what was not read beyond is not forbidden.
  const kept: readonly [number, number] = [
    piece[0] === Math.log(low) ? withinS[0] : Math.exp(piece[0]),
    piece[1] === Math.log(high) ? withinS[1] : Math.exp(piece[1]),
  ]
  const side = (end: 0 | 1) =>
    `yellowness, which keeps ${most} only ${end === 0 ? 'from' : 'up to'} ${seconds(kept[end])}`
  return {
    withinS: kept,
    limits: [],
    limitAt: (exposureS) =>
      ([0, 1] as const).flatMap((end) =>
        exposureS === kept[end] && kept[end] !== withinS[end] ? [limit(side(end))] : [],
      ),
  }
}
