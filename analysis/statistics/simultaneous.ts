import rangeCdf from '@stdlib/stats-base-dists-studentized-range-cdf'
import rangeQuantile from '@stdlib/stats-base-dists-studentized-range-quantile'
import studentCdf from '@stdlib/stats-base-dists-t-cdf'
import { coverageFactor } from './quantiles.js'

/** What is asked of all differences among some groups at once. */
export interface Family {
  readonly groups: number
  /** Of the difference's standard uncertainty; `undefined` means infinite. */
  readonly degreesOfFreedom: number | undefined
}

/** The studentized range is not tabulated below two degrees of freedom. */
const FEWEST_FOR_RANGE = 2

/**
 * Factor k so that all differences of a family lie within +- k u of the truth together, at least with this chance.
 *
 * q / sqrt(2) of the studentized range, each difference with its own degrees of freedom: Games and Howell's procedure,
 * Tukey and Kramer's when these are alike. Below two degrees of freedom Bonferroni's factor, which is wider.
 *
 * @see P. A. Games, J. F. Howell, J. Educ. Stat. 1 (1976) 113 [from memory]; checked against R's ptukey
 * @example simultaneousFactor({ groups: 3, degreesOfFreedom: 10 }) // 2.741
 */
export function simultaneousFactor({ groups, degreesOfFreedom }: Family, coverage = 0.95): number {
  if (groups <= 2) return coverageFactor(degreesOfFreedom, coverage)
  if (degreesOfFreedom !== undefined && degreesOfFreedom < FEWEST_FOR_RANGE) {
    return coverageFactor(degreesOfFreedom, 1 - (1 - coverage) / pairsOf(groups))
  }
  return rangeQuantile(coverage, groups, degreesOfFreedom ?? Infinity) / Math.SQRT2
}

/**
 * Chance of a difference at least this many standard uncertainties large somewhere in the family, were all groups alike.
 *
 * @param ratio difference over its standard uncertainty
 */
export function adjustedP(ratio: number, { groups, degreesOfFreedom }: Family): number {
  const size = Math.abs(ratio)
  const alone = 2 * studentCdf(-size, degreesOfFreedom ?? Infinity)
  if (groups <= 2) return alone
  if (degreesOfFreedom !== undefined && degreesOfFreedom < FEWEST_FOR_RANGE) return Math.min(1, pairsOf(groups) * alone)
  return Math.min(1, Math.max(0, 1 - rangeCdf(size * Math.SQRT2, groups, degreesOfFreedom ?? Infinity)))
}

const pairsOf = (groups: number): number => (groups * (groups - 1)) / 2
