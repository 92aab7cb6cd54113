/** A measured or fitted number and how well it is known. */
export interface Estimate {
  readonly value: number
  /** Standard uncertainty (k = 1), in the unit of the value. */
  readonly standardUncertainty: number
  /** Degrees of freedom of the standard uncertainty. Absent: it is taken as known exactly, as a type B term often is. */
  readonly degreesOfFreedom?: number
}

/**
 * @param degreesOfFreedom `Infinity`, the default, is left out of the estimate, for JSON cannot carry it
 * @example makeEstimate(12.1, 0.4, 5) // { value: 12.1, standardUncertainty: 0.4, degreesOfFreedom: 5 }
 */
export function makeEstimate(value: number, standardUncertainty: number, degreesOfFreedom = Infinity): Estimate {
  return degreesOfFreedom === Infinity
    ? { value, standardUncertainty }
    : { value, standardUncertainty, degreesOfFreedom }
}

/** An estimate without its degrees of freedom, as results state it. */
export const stated = ({ value, standardUncertainty }: Estimate): { value: number; standardUncertainty: number } => ({
  value,
  standardUncertainty,
})
