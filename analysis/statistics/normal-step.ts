import erf from '@stdlib/math-base-special-erf'

const STEPS_PER_UNIT = 64
/** Beyond it less than 1e-10 is left. */
const END = 6.5
const PLACES = END * STEPS_PER_UNIT + 1

const VALUES = Float64Array.from({ length: PLACES + 1 }, (_, i) => 0.5 * (1 + erf((i / STEPS_PER_UNIT) * Math.SQRT1_2)))
/** Slopes, a step. */
const SLOPES = Float64Array.from(
  { length: PLACES + 1 },
  (_, i) => Math.exp(-0.5 * (i / STEPS_PER_UNIT) ** 2) / Math.sqrt(2 * Math.PI) / STEPS_PER_UNIT,
)

/**
 * Distribution function of the standard normal distribution, the shape of a blurred step, within 1e-10.
 *
 * By cubics (Hermite's) between tabled values and slopes: a photograph asks for it some hundred thousand times, and a
 * library's to the last digit takes several times as long.
 */
export function normalStep(u: number): number {
  const place = Math.abs(u) * STEPS_PER_UNIT
  if (!(place < PLACES - 1)) return u > 0 ? 1 : u < 0 ? 0 : NaN
  const i = place | 0
  const t = place - i
  const [a, b] = [VALUES[i]!, VALUES[i + 1]!]
  const [slopeA, slopeB] = [SLOPES[i]!, SLOPES[i + 1]!]
  const rise = b - a
  const value = a + t * (slopeA + t * (3 * rise - 2 * slopeA - slopeB + t * (slopeA + slopeB - 2 * rise)))
  return u < 0 ? 1 - value : value
}
