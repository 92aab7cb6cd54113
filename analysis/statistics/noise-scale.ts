/**
 * Where the size of the noise in a fit comes from.
 *
 * - `given`: the weights are 1/u^2 and the stated u are trusted ("absolute" weights)
 * - `scatter`: the weights say only how the points compare; the size is taken from the residuals ("relative" weights)
 * - `larger`: the stated u, raised to the scatter when the points scatter more than stated
 */
export type NoiseBasis = 'given' | 'scatter' | 'larger'

export interface NoiseScale {
  /** Factor on the variances that follow from the weights. */
  readonly varianceFactor: number
  /** Degrees of freedom of the scaled variances; `Infinity` when the stated uncertainties decide. */
  readonly degreesOfFreedom: number
}

/**
 * Scale of the noise in a weighted fit, from B^2 = rss / nu, the squared Birge ratio.
 *
 * For `larger` the factor is max(1, B^2): excess scatter widens the uncertainties, lucky agreement never narrows them.
 * Where the stated u explain the scatter they are taken as known and t is the normal's; where they do not, the scatter
 * decides and t has nu degrees of freedom. Worked out for a straight 95 % interval with u true, 1.4 and 2 times as large
 * as stated: it covers 97, 94.5 and 94 % at nu = 3, 97, 95 and 95 % at nu = 4. A softer passage between the two, with
 * nu B^4 / (B^2 - 1)^2 degrees of freedom, would cover 96, 92 and 90 % at nu = 3.
 *
 * @throws {RangeError} for `scatter` without residual degrees of freedom
 * @see R. T. Birge, Phys. Rev. 40 (1932) 207: ratio of external to internal consistency [from memory]
 * @example scaleOfNoise(12, 4, 'larger') // { varianceFactor: 3, degreesOfFreedom: 4 }
 */
export function scaleOfNoise(rss: number, residualDegreesOfFreedom: number, basis: NoiseBasis): NoiseScale {
  if (basis === 'scatter' && residualDegreesOfFreedom < 1) {
    throw new RangeError(`scaleOfNoise needs residual degrees of freedom for scatter, got ${residualDegreesOfFreedom}`)
  }
  if (basis === 'given' || residualDegreesOfFreedom < 1) return { varianceFactor: 1, degreesOfFreedom: Infinity }
  const birgeSquared = rss / residualDegreesOfFreedom
  if (basis === 'scatter') return { varianceFactor: birgeSquared, degreesOfFreedom: residualDegreesOfFreedom }
  return birgeSquared <= 1
    ? { varianceFactor: 1, degreesOfFreedom: Infinity }
    : { varianceFactor: birgeSquared, degreesOfFreedom: residualDegreesOfFreedom }
}
