/** Decimals needed to write a multiple of the step: 0.1 has 1, 0.25 has 2. */
export function decimalsOfStep(timeStepS: number): number {
  for (let decimals = 0; decimals < 6; decimals++) {
    if (Math.abs(timeStepS - Number(timeStepS.toFixed(decimals))) < 1e-9) return decimals
  }
  return 6
}

/** A whole number of time steps, free of binary dust: 3 steps of 0.1 s are 0.3 s, not 0.30000000000000004. */
export function exposureOfSteps(steps: number, timeStepS: number): number {
  return Number((steps * timeStepS).toFixed(decimalsOfStep(timeStepS)))
}

export interface RoundingOptions {
  readonly timeStepS: number
  /** Exposures that the result should not leave, s. */
  readonly withinS: readonly [number, number]
  /** Exposures that were printed, s: settings that the printer is known to take. */
  readonly printedS: readonly number[]
}

/**
 * Nearest exposure that the printer can be set to without leaving the given range.
 *
 * That is a multiple of the time step; where the range holds none, the nearest printed exposure within it, or without
 * one there, the nearest printed exposure.
 */
export function roundToStep(exposureS: number, { timeStepS, withinS, printedS }: RoundingOptions): number {
  const within = (value: number) => value >= withinS[0] && value <= withinS[1]
  const steps = Math.floor(exposureS / timeStepS)
  const multiples = [steps, steps + 1].map((count) => exposureOfSteps(count, timeStepS)).filter(within)
  const printedWithin = printedS.filter(within)
  const choices = multiples.length > 0 ? multiples : printedWithin.length > 0 ? printedWithin : printedS
  return choices.reduce((a, b) => (Math.abs(b - exposureS) < Math.abs(a - exposureS) ? b : a))
}
