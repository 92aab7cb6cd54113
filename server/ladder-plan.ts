/** Exposures in equal ratios from one end to the other, each a whole number of the printer's time steps, none twice. */
export function spreadExposures(range: { fromS: number; toS: number; rungs: number; timeStepS: number }): number[] {
  const { fromS, toS, rungs, timeStepS } = range
  const steps = Array.from({ length: rungs }, (_, i) =>
    Math.max(1, Math.round((fromS * (toS / fromS) ** (i / (rungs - 1))) / timeStepS)),
  )
  // Through a decimal, or 3 steps of 0.1 s would be 0.30000000000000004 s.
  return [...new Set(steps)].map((count) => Number((count * timeStepS).toFixed(6)))
}
