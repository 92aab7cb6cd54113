export interface SearchOptions {
  /** Points inside [low, high] that must not be stepped over, such as a known minimum. Default none. */
  readonly landmarks?: readonly number[]
  /**
   * Steps of the first look; roots closer together than a step are seen only if a landmark lies between them. Default
   * 256; fewer for a smooth function that is costly.
   */
  readonly steps?: number
  /** How near to a change of sign the search stops. Default 0: at the last bit. */
  readonly tolerance?: number
}

/**
 * Intervals within [low, high] on which a continuous function is at most zero, ascending.
 *
 * Scans evenly and at the landmarks, then closes in on every change of sign.
 *
 * @example intervalsAtMostZero((x) => x * x - 4, -5, 1) // [[-2, 1]]
 */
export function intervalsAtMostZero(
  f: (x: number) => number,
  low: number,
  high: number,
  { landmarks = [], steps = 256, tolerance = 0 }: SearchOptions = {},
): [number, number][] {
  const even = Array.from({ length: steps + 1 }, (_, i) => low + ((high - low) * i) / steps)
  even[steps] = high
  const scan = [...even, ...landmarks].sort((a, b) => a - b)
  const intervals: [number, number][] = []
  let start = f(low) <= 0 ? low : undefined
  for (let i = 1; i < scan.length; i++) {
    const [before, after] = [scan[i - 1]!, scan[i]!]
    const inside = f(after) <= 0
    if (inside && start === undefined) start = lastInside(f, after, before, tolerance)
    else if (!inside && start !== undefined) {
      intervals.push([start, lastInside(f, before, after, tolerance)])
      start = undefined
    }
  }
  if (start !== undefined) intervals.push([start, high])
  return intervals
}

/**
 * Last point on the way from `inside`, where f <= 0, to `outside`, where f > 0, f changing sign once between.
 *
 * Inverse quadratic steps where the last points bend alike, halves where not: some ten calls where bisection takes fifty.
 *
 * @see T. R. Chandrupatla, Adv. Eng. Softw. 28 (1997) 145 [from memory]
 */
export function lastInside(f: (x: number) => number, inside: number, outside: number, tolerance = 0): number {
  // The newest point, and the other end of the bracket.
  let [x1, f1, x2, f2] = [outside, f(outside), inside, f(inside)]
  let share = 0.5
  for (;;) {
    const x = x1 + share * (x2 - x1)
    const fx = f(x)
    const sameSide = fx <= 0 === f1 <= 0
    const [x3, f3] = sameSide ? [x1, f1] : [x2, f2]
    if (!sameSide) [x2, f2] = [x1, f1]
    ;[x1, f1] = [x, fx]
    const least = (tolerance / 2 + Number.EPSILON * Math.abs(x1)) / Math.abs(x2 - x1)
    if (f1 === 0 || !(least < 0.5)) return f1 <= 0 ? x1 : x2
    const place = (x1 - x2) / (x3 - x2)
    const height = (f1 - f2) / (f3 - f2)
    // Not so where a value is no number: then halves.
    const bendsAlike = height ** 2 < place && (1 - height) ** 2 < 1 - place
    share = bendsAlike
      ? (f1 / (f2 - f1)) * (f3 / (f2 - f3)) + ((x3 - x1) / (x2 - x1)) * (f1 / (f3 - f1)) * (f2 / (f3 - f2))
      : 0.5
    share = Math.min(1 - least, Math.max(least, share))
  }
}
