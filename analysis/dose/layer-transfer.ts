/**
 * How exposures at two layer heights compare, for light that fades as exp(-depth / Dp) in a stack of equal layers.
 *
 * Each layer of height h gets the dose E0 at the face through which it is exposed. Later layers are exposed through the
 * window below it, so light that passes them adds up: at the near face to E0 / (1 - q), q = exp(-h / Dp).
 *
 * @see J. L. Gong et al., RSC Adv. 5 (2015) 106621 for dose in a stack; the formulas are geometric series in q
 */
export interface TransferRatios {
  /** Equal own dose at the far face, where a layer meets the one before: exp((h2 - h1) / Dp). */
  readonly bond: number
  /** Equal accumulated dose at the near face: (1 - q2) / (1 - q1). */
  readonly accumulatedNear: number
  /** Equal accumulated dose averaged over a layer: h2 / h1, whatever Dp is. */
  readonly accumulatedMean: number
  /** Equal accumulated dose at the far face: (1/q2 - 1) / (1/q1 - 1). */
  readonly accumulatedFar: number
}

/**
 * Exposure at the second height over that at the first, by each rule.
 *
 * @throws {RangeError} if a height or Dp is not above 0
 * @example transferRatios(50, 30, 300) // bond 0.936, near 0.620, mean 0.6, far 0.580
 */
export function transferRatios(fromUm: number, toUm: number, depthUm: number): TransferRatios {
  requirePositive('transferRatios', { fromUm, toUm, depthUm })
  return {
    bond: Math.exp((toUm - fromUm) / depthUm),
    accumulatedNear: Math.expm1(-toUm / depthUm) / Math.expm1(-fromUm / depthUm),
    accumulatedMean: toUm / fromUm,
    accumulatedFar: Math.expm1(toUm / depthUm) / Math.expm1(fromUm / depthUm),
  }
}

/** Accumulated dose at the near face over that of the layer's own exposure: 1 / (1 - exp(-h / Dp)), about Dp / h + 1/2. */
export function doseGain(layerUm: number, depthUm: number): number {
  requirePositive('doseGain', { layerUm, depthUm })
  return -1 / Math.expm1(-layerUm / depthUm)
}

/**
 * Dose at a depth below the face at which a thick stack ends, over the dose of one exposure at its face: the light of
 * all layers above that reaches there, gain exp(-depth / Dp).
 */
export function doseBelow(depthBelowUm: number, layerUm: number, depthUm: number): number {
  return doseGain(layerUm, depthUm) * Math.exp(-depthBelowUm / depthUm)
}

function requirePositive(name: string, values: Readonly<Record<string, number>>): void {
  for (const [what, value] of Object.entries(values)) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} needs ${what} above 0, got ${value}`)
  }
}
