import { exposureOfSteps } from './time-step.js'

export interface LadderPlan {
  /** Geometric centre of the exposures, s. */
  readonly centreS: number
  /** Exposure of a rung over that of the rung below, above 1. Default 1.25. */
  readonly ratio?: number
  /** How many. Default 6. */
  readonly rungs?: number
  /** The printer's smallest step of layer exposure, s. Default 0.1. */
  readonly timeStepS?: number
}

/**
 * Exposures of a ladder: geometric about a centre, as growth goes with ln(exposure), in whole time steps.
 *
 * Ascending and all different: where rounding would merge two rungs, the upper moves up by a step, and none is below one
 * step. Six rungs of ratio 1.25 span a factor of 3, wide enough to bracket a guess that is off by 1.7 either way.
 *
 * @returns shape (rungs), s
 * @throws {RangeError} if the centre or time step is not above 0, the ratio not above 1, or rungs not a whole number
 * @example planLadder({ centreS: 2.5, ratio: 1.2, rungs: 6 }) // [1.6, 1.9, 2.3, 2.7, 3.3, 3.9]
 */
export function planLadder({ centreS, ratio = 1.25, rungs = 6, timeStepS = 0.1 }: LadderPlan): number[] {
  const need = (what: string, got: unknown) => new RangeError(`planLadder needs ${what}, got ${got}`)
  if (!(centreS > 0 && centreS < Infinity)) throw need('a centre above 0 s', centreS)
  if (!(ratio > 1 && ratio < Infinity)) throw need('a ratio above 1', ratio)
  if (!(Number.isInteger(rungs) && rungs > 0)) throw need('a whole number of rungs', rungs)
  if (!(timeStepS > 0 && timeStepS < Infinity)) throw need('a time step above 0 s', timeStepS)

  let steps = 0
  return Array.from({ length: rungs }, (_, i) => {
    const exact = centreS * ratio ** (i - (rungs - 1) / 2)
    steps = Math.max(steps + 1, Math.round(exact / timeStepS))
    return exposureOfSteps(steps, timeStepS)
  })
}

export interface LadderRange {
  readonly fromS: number
  readonly toS: number
  readonly rungs: number
  readonly timeStepS: number
}

/**
 * Exposures in equal ratios from one end to the other, in whole time steps; fewer than asked where the steps are too
 * coarse for as many between the ends.
 *
 * @param range two rungs or more, `fromS` below `toS`
 * @throws {RangeError} otherwise
 * @example spreadLadder({ fromS: 1, toS: 4, rungs: 5, timeStepS: 0.05 }) // [1, 1.4, 2, 2.85, 4]
 */
export function spreadLadder({ fromS, toS, rungs, timeStepS }: LadderRange): number[] {
  if (!(fromS > 0 && toS > fromS && rungs >= 2)) {
    throw new RangeError(`spreadLadder needs two rungs or more that go up, got ${rungs} from ${fromS} to ${toS} s`)
  }
  const centreS = Math.sqrt(fromS * toS)
  const ratio = (toS / fromS) ** (1 / (rungs - 1))
  const highestS = Math.max(toS, exposureOfSteps(Math.round(toS / timeStepS), timeStepS))
  return planLadder({ centreS, ratio, rungs, timeStepS }).filter((exposureS) => exposureS <= highestS + 1e-9)
}
