import { coverageFactor } from './quantiles.js'

/** One independent source of uncertainty of a result. */
export interface UncertaintyComponent {
  /** Standard uncertainty of the input, in the input's unit. */
  readonly standardUncertainty: number
  /** Change of the result per change of the input. Default 1: the uncertainty is already in the result's unit. */
  readonly sensitivity?: number
  /** Degrees of freedom of the standard uncertainty. Default infinite: taken as known exactly. */
  readonly degreesOfFreedom?: number
}

export interface CombinedUncertainty {
  readonly standardUncertainty: number
  /** Effective degrees of freedom, not rounded; absent when infinite. */
  readonly degreesOfFreedom?: number
}

/**
 * Combined standard uncertainty of independent components, with its effective degrees of freedom.
 *
 *   u^2 = sum (c_i u_i)^2          nu_eff = u^4 / sum ((c_i u_i)^4 / nu_i)     (Welch-Satterthwaite)
 *
 * Assumes that the components are independent and the result is nearly linear in them.
 *
 * @throws {RangeError} if an uncertainty is negative or not finite, or degrees of freedom are not above 0
 * @see JCGM 100:2008 (GUM) 5.1.2 and G.4.1
 * @example combineUncertainty([{ standardUncertainty: 3, degreesOfFreedom: 4 }, { standardUncertainty: 4 }])
 * // { standardUncertainty: 5, degreesOfFreedom: 30.9 }
 */
export function combineUncertainty(components: readonly UncertaintyComponent[]): CombinedUncertainty {
  let variance = 0
  let spreadOfVariance = 0
  for (const { standardUncertainty, sensitivity = 1, degreesOfFreedom = Infinity } of components) {
    if (!(standardUncertainty >= 0 && standardUncertainty < Infinity)) {
      throw new RangeError(`combineUncertainty needs finite uncertainties of at least 0, got ${standardUncertainty}`)
    }
    if (!(degreesOfFreedom > 0)) {
      throw new RangeError(`combineUncertainty needs degrees of freedom above 0, got ${degreesOfFreedom}`)
    }
    const contribution = (sensitivity * standardUncertainty) ** 2
    variance += contribution
    spreadOfVariance += contribution ** 2 / degreesOfFreedom
  }
  const standardUncertainty = Math.sqrt(variance)
  return spreadOfVariance === 0
    ? { standardUncertainty }
    : { standardUncertainty, degreesOfFreedom: variance ** 2 / spreadOfVariance }
}

/**
 * Expanded uncertainty U = k u, with k from Student's t.
 *
 * Degrees of freedom are truncated to the next lower whole number, as the GUM recommends; below 1 they count as 1.
 *
 * @param coverage probability inside value +- U, default 0.95
 * @see JCGM 100:2008 (GUM) G.4.1 and G.6.4
 * @example expandUncertainty({ standardUncertainty: 32, degreesOfFreedom: 16.8 }, 0.99)
 * // { expandedUncertainty: 93, coverageFactor: 2.92 }
 */
export function expandUncertainty(
  { standardUncertainty, degreesOfFreedom }: CombinedUncertainty,
  coverage = 0.95,
): { expandedUncertainty: number; coverageFactor: number } {
  const whole = degreesOfFreedom === undefined ? undefined : Math.max(1, Math.floor(degreesOfFreedom))
  const k = coverageFactor(whole, coverage)
  return { expandedUncertainty: k * standardUncertainty, coverageFactor: k }
}
