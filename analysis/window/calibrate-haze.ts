import type { HazeStandard, MeasuredValue } from '../result.js'

/**
 * Haze on the scale of two pieces whose haze is known: the straight line through both.
 *
 * @param index our relative haze index
 * @param standards what each piece was read with, and its haze; their indices must differ
 * @returns percent on that scale; what the pieces' own values are uncertain by is not in it
 * @throws {RangeError} if both pieces were read alike
 */
export function calibrateHaze(index: MeasuredValue, [low, high]: readonly [HazeStandard, HazeStandard]): MeasuredValue {
  const step = high.index - low.index
  if (step === 0) throw new RangeError(`calibrateHaze needs two different indices, got ${low.index} twice`)
  const slope = (high.hazePercent - low.hazePercent) / step
  return {
    value: low.hazePercent + slope * (index.value - low.index),
    standardUncertainty: Math.abs(slope) * index.standardUncertainty,
  }
}
