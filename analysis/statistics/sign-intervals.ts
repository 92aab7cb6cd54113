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
 * Scans evenly and at the landmarks, then bisects every change of sign.
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
    if (inside && start === undefined) start = bisect(f, after, before, tolerance)
    else if (!inside && start !== undefined) {
      intervals.push([start, bisect(f, before, after, tolerance)])
      start = undefined
    }
  }
  if (start !== undefined) intervals.push([start, high])
  return intervals
}

/** Last point on the way from `inside`, where f <= 0, to `outside`, where f > 0, f changing sign once between. */
export function bisect(f: (x: number) => number, inside: number, outside: number, tolerance = 0): number {
  for (;;) {
    const middle = (inside + outside) / 2
    if (middle === inside || middle === outside || Math.abs(outside - inside) < tolerance) return inside
    if (f(middle) <= 0) inside = middle
    else outside = middle
  }
}
