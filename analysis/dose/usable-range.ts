import { refuse, type Outcome } from '../outcome.js'
import { lastInside, intervalsAtMostZero } from '../statistics/sign-intervals.js'
import { findExposureInterval } from './dose-to-size.js'
import { TAIL_SEARCH, tailAbove } from './exposure-set.js'
import { evaluateGrowth, rungRangeS, type GrowthFit } from './growth-fit.js'

/** Exposure latitude: where growth stays within a tolerance. Nothing reaches beyond the rungs. */
export interface UsableRange {
  readonly toleranceUm: number
  /** s; where the best estimate of |growth| is within the tolerance. */
  readonly rangeS: readonly [number, number]
  /** Ends of that range at which the ladder ended first; the latitude may go on. */
  readonly reachesEnd: { readonly low: boolean; readonly high: boolean }
  /** s; where each exposure is within the tolerance with 95 % confidence. Absent when none is. */
  readonly confidentRangeS?: readonly [number, number]
  /** s, 95 %: where true growth reaches the tolerance at either end; absent where the ladder ended first. */
  readonly endIntervalsS: {
    readonly low?: readonly [number, number]
    readonly high?: readonly [number, number]
  }
  /** Exposure latitude: width of `rangeS` over the exposure in it whose growth is nearest zero, per cent. */
  readonly latitudePercent: number
  /** Upper over lower end of `rangeS`. Both latitudes are lower bounds where the range was cut. */
  readonly latitudeRatio: number
}

/**
 * Range of exposures over which lateral growth stays within +- tolerance.
 *
 * Exposure latitude as lithographers define it: the range that keeps the width within its limits, over the exposure that
 * prints to size; they take limits of +- 10 % of the width, here it is the tolerance of whoever prints.
 *
 * The confident range holds the exposures for which two one-sided tests at 5 % both say "within", by the tails of
 * `tailAbove` at either tolerance, with the common offset. It speaks of one exposure at a time, not of all of them at
 * once.
 *
 * @param options.toleranceUm growth allowed per side, um, above 0
 * @returns the range, or the refusal `nothing-within-tolerance` when no exposure between the rungs is
 * @throws {RangeError} if the tolerance is not above 0
 * @see C. Mack, Fundamental Principles of Optical Lithography (Wiley 2007) 8.3 for the latitude; D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657: two
 *   one-sided tests [both from memory]
 */
export function findUsableRange(
  fit: GrowthFit,
  { toleranceUm }: { readonly toleranceUm: number },
): Outcome<UsableRange> {
  if (!(toleranceUm > 0 && toleranceUm < Infinity)) {
    throw new RangeError(`findUsableRange needs a tolerance above 0 um, got ${toleranceUm}`)
  }
  const ends = rungRangeS(fit)
  const [uLow, uHigh] = ends.map((exposureS) => Math.log(exposureS / fit.referenceS)) as [number, number]
  const growth = (u: number) => evaluateGrowth(fit.chosen, u).growthUm
  // The place nearest to size: where growth, which is monotone, crosses zero, else the end with less of it.
  const [inside, outside] = growth(uLow) <= 0 ? [uLow, uHigh] : [uHigh, uLow]
  const candidates = [
    uLow,
    uHigh,
    ...(growth(inside) <= 0 && growth(outside) > 0 ? [lastInside(growth, inside, outside)] : []),
  ]
  const nearest = candidates.reduce((a, b) => (Math.abs(growth(b)) < Math.abs(growth(a)) ? b : a))

  const best = intervalsAtMostZero((u) => Math.abs(growth(u)) - toleranceUm, uLow, uHigh, { landmarks: [nearest] })
  const range = best.find(([low, high]) => low <= nearest && nearest <= high)
  if (!range) {
    return refuse(
      'nothing-within-tolerance',
      'Print other exposures, or allow more growth.',
      `smallest growth between the rungs ${growth(nearest).toFixed(1)} um, tolerance ${toleranceUm} um`,
    )
  }
  const shortfall = (u: number) =>
    Math.max(tailAbove(fit, { growthUm: toleranceUm }, u) - 0.05, 0.95 - tailAbove(fit, { growthUm: -toleranceUm }, u))
  const confident = intervalsAtMostZero(shortfall, uLow, uHigh, { landmarks: [nearest], ...TAIL_SEARCH })
  const widest = confident.reduce<[number, number] | undefined>(
    (a, b) => (a && a[1] - a[0] >= b[1] - b[0] ? a : b),
    undefined,
  )
  const toS = ([low, high]: readonly [number, number]) =>
    [
      low === uLow ? ends[0] : Math.exp(low) * fit.referenceS,
      high === uHigh ? ends[1] : Math.exp(high) * fit.referenceS,
    ] as const
  const rangeS = toS(range)
  return {
    ok: true,
    value: {
      toleranceUm,
      rangeS,
      reachesEnd: { low: range[0] === uLow, high: range[1] === uHigh },
      ...(widest ? { confidentRangeS: toS(widest) } : {}),
      endIntervalsS: {
        ...(range[0] === uLow ? {} : { low: findExposureInterval(fit, rangeS[0]).intervalS }),
        ...(range[1] === uHigh ? {} : { high: findExposureInterval(fit, rangeS[1]).intervalS }),
      },
      latitudeRatio: rangeS[1] / rangeS[0],
      latitudePercent: (100 * (rangeS[1] - rangeS[0])) / (Math.exp(nearest) * fit.referenceS),
    },
  }
}
