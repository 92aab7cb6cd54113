import type { Factor } from '../layout/factors.js'
import { MODELS } from './process-ladder.js'

/**
 * Levels of a process ladder between two ends.
 *
 * For what levels off: the lowest, and from the highest down halves of it, for one bend must lie between them that may
 * be anywhere; for a trend equal steps. Each as a number of two digits.
 *
 * @param rungs 2 to 8
 * @throws {RangeError} if the ends do not go up or the rungs are too few or many
 */
export function planLevels(factor: Factor, low: number, high: number, rungs: number): string[] {
  if (!(low >= 0 && high > low)) throw new RangeError(`planLevels needs ends that go up, got ${low} and ${high}`)
  if (!(rungs >= 2 && rungs <= 8)) throw new RangeError(`planLevels needs 2 to 8 rungs, got ${rungs}`)
  const steps = Array.from({ length: rungs }, (_, i) =>
    MODELS[factor] === 'saturating'
      ? i === 0
        ? low
        : low + (high - low) / 2 ** (rungs - 1 - i)
      : low + ((high - low) * i) / (rungs - 1),
  )
  const whole = factor === 'post-cure-stages'
  const written = steps.map((step) => String(whole ? Math.round(step) : Number(step.toPrecision(2))))
  return [...new Set(written)]
}
