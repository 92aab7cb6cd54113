import studentCdf from '@stdlib/stats-base-dists-t-cdf'
import { refuse, type Outcome } from '../outcome.js'
import { makeEstimate, type Estimate } from '../statistics/estimate.js'

export interface ChangePoint {
  /** Place of the last reading before the change, from 0. */
  readonly lastBefore: number
  /** Places between which the last reading before the change lies with about 95 % confidence. */
  readonly interval: readonly [number, number]
  /** Level after less level before. */
  readonly change: Estimate
  /** Student's t of the two levels. */
  readonly t: number
  /** Upper bound of the chance of so clear a change anywhere, were there none. */
  readonly pAtMost: number
}

const FEWEST = 6
/** Readings that a level needs. */
const FEWEST_A_SIDE = 2
/** 95 % point of chi-squared with one degree of freedom. */
const CHI2_95 = 3.841

/**
 * The moment at which the level of a series changed once, by maximum likelihood under one normal scatter.
 *
 * The split with the largest two-sample t; Bonferroni over the splits bounds the chance of finding it in mere noise. The
 * interval holds the splits whose log-likelihood is within half of chi-squared's 95 % point, which is approximate.
 *
 * @param values shape (n), in order of time
 * @returns the change most likely, whether or not it is more than noise: see `pAtMost`; or the refusal
 *   `too-few-readings` below 6, `no-scatter` when nothing varies about the levels
 * @see D. M. Hawkins, P. Qiu, C. W. Kang, J. Qual. Technol. 35 (2003) 355; D. V. Hinkley, Biometrika 57 (1970) 1
 *   [from memory]; checked against R on the Nile's flow
 */
export function findChange(values: readonly number[]): Outcome<ChangePoint> {
  const n = values.length
  if (n < FEWEST) {
    return refuse('too-few-readings', 'Photograph on more days.', `${n} readings, ${FEWEST} needed`)
  }
  const splits = Array.from({ length: n - 2 * FEWEST_A_SIDE + 1 }, (_, i) => {
    const before = values.slice(0, i + FEWEST_A_SIDE)
    const after = values.slice(i + FEWEST_A_SIDE)
    const [low, high] = [level(before), level(after)]
    return {
      lastBefore: before.length - 1,
      change: high.mean - low.mean,
      rss: low.rss + high.rss,
      sides: [before, after],
    }
  })
  const best = splits.reduce((a, b) => (b.rss < a.rss ? b : a))
  if (!(best.rss > 0)) return refuse('no-scatter', 'Measure with more digits.', 'nothing varies about the two levels')
  const freedoms = n - 2
  const [before, after] = best.sides
  const u = Math.sqrt((best.rss / freedoms) * (1 / before!.length + 1 / after!.length))
  const t = best.change / u
  const likely = splits.filter(({ rss }) => n * Math.log(rss / best.rss) <= CHI2_95).map(({ lastBefore }) => lastBefore)
  return {
    ok: true,
    value: {
      lastBefore: best.lastBefore,
      interval: [likely[0]!, likely.at(-1)!],
      change: makeEstimate(best.change, u, freedoms),
      t,
      pAtMost: Math.min(1, splits.length * 2 * studentCdf(-Math.abs(t), freedoms)),
    },
  }
}

function level(values: readonly number[]): { mean: number; rss: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return { mean, rss: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) }
}
