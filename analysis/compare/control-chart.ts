import { refuse, type Outcome } from '../outcome.js'

export interface ControlChart {
  /** Mean of the baseline. */
  readonly centre: number
  /** Standard deviation of one reading, from the baseline's moving ranges. */
  readonly sigma: number
  /** How many first readings the limits come from. */
  readonly baseline: number
  readonly individual: { readonly limits: readonly [number, number]; readonly out: readonly number[] }
  readonly ewma: {
    readonly lambda: number
    /** Shape (n). */
    readonly values: readonly number[]
    /** Shape (n): limits of each value, wider as memory fills. */
    readonly limits: readonly (readonly [number, number])[]
    /** Places of values outside, from 0. */
    readonly out: readonly number[]
  }
}

export interface ChartOptions {
  /** First readings that set the limits. Default: the first 10, or half of them if fewer than 20, but at least 5. */
  readonly baseline?: number
  /** Weight of the newest reading, above 0 and up to 1. Default 0.2. */
  readonly lambda?: number
  /** Known centre and standard deviation instead of the baseline's. */
  readonly known?: { readonly centre: number; readonly sigma: number }
}

const FEWEST = 5
/** Mean range of two normal values, in standard deviations. */
const D2 = 1.128
const WIDTH = 3

/**
 * Individuals chart and chart of the exponentially weighted moving average, with limits from the first readings.
 *
 *   sigma = mean |x_i - x_(i-1)| / 1.128       individuals: centre +- 3 sigma
 *   z_i = lambda x_i + (1 - lambda) z_(i-1), z_0 = centre
 *   limits: centre +- 3 sigma sqrt(lambda / (2 - lambda) (1 - (1 - lambda)^(2 i)))
 *
 * With a short baseline the limits are themselves uncertain and a reading falls outside by chance more often than the
 * 1 in 370 of long ones; `tests/slow/compare-coverage.test.ts` measures how often.
 *
 * @param values shape (n), in order of time
 * @returns the charts, or the refusal `too-few-readings` below 6 readings, `no-scatter` when the baseline does not vary
 * @see NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2 and 6.3.2.4, doi:10.18434/M32189
 */
export function controlChart(values: readonly number[], options: ChartOptions = {}): Outcome<ControlChart> {
  const { baseline = Math.min(10, Math.max(FEWEST, Math.floor(values.length / 2))), lambda = 0.2, known } = options
  if (!(lambda > 0 && lambda <= 1))
    throw new RangeError(`controlChart needs a weight above 0 and up to 1, got ${lambda}`)
  if (!known && (values.length <= FEWEST || baseline < FEWEST)) {
    return refuse(
      'too-few-readings',
      `Photograph this bottle's coupons on at least ${FEWEST + 1} days.`,
      `${values.length} readings, ${FEWEST + 1} needed`,
    )
  }
  const first = values.slice(0, baseline)
  const { centre, sigma } = known ?? {
    centre: first.reduce((sum, value) => sum + value, 0) / first.length,
    sigma: first.slice(1).reduce((sum, value, i) => sum + Math.abs(value - first[i]!), 0) / (first.length - 1) / D2,
  }
  if (!(sigma > 0)) return refuse('no-scatter', 'Measure with more digits.', 'the first readings are all the same')

  const limits = [centre - WIDTH * sigma, centre + WIDTH * sigma] as const
  let z = centre
  const averages = values.map((value) => (z = lambda * value + (1 - lambda) * z))
  const averageLimits = values.map((_, i) => {
    const half = WIDTH * sigma * Math.sqrt((lambda / (2 - lambda)) * (1 - (1 - lambda) ** (2 * (i + 1))))
    return [centre - half, centre + half] as const
  })
  const outside = (value: number, [low, high]: readonly [number, number]) => value < low || value > high
  const places = (are: readonly boolean[]) => are.flatMap((is, i) => (is ? [i] : []))
  return {
    ok: true,
    value: {
      centre,
      sigma,
      baseline: known ? 0 : first.length,
      individual: { limits, out: places(values.map((value) => outside(value, limits))) },
      ewma: {
        lambda,
        values: averages,
        limits: averageLimits,
        out: places(averages.map((value, i) => outside(value, averageLimits[i]!))),
      },
    },
  }
}
