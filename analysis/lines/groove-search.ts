import type { EdgeProfile } from './edge-profile.js'

/** Where grooves lie, coarsely: all moved alike and all narrowed alike. */
export interface GrooveGuess {
  /** Shape (2 n), mm, left and right edge of each groove. */
  readonly edgesMm: number[]
  /** Mean light of the lands minus that of the grooves; negative where lands are dark. */
  readonly contrast: number
}

export interface GrooveSearch {
  /** How far the whole run may lie from nominal, mm. */
  readonly reachMm: number
  /** How much each lower (left) edge may move into its groove, mm: least and most. */
  readonly lower: readonly [number, number]
  /** The same for each upper (right) edge. */
  readonly upper: readonly [number, number]
  /** Both edges move alike (growth) or each by itself (print-through). */
  readonly symmetric: boolean
}

/** Finer than a third of the blur, so that the fit that follows starts on the right slope. */
const STEP_MM = 0.02

/**
 * Tries shifts and narrowings of a run of grooves and keeps the one that parts light from dark best.
 *
 * The score is the contrast times the root of the widths' product, which a two-level picture maximises where the
 * levels change (Otsu's between-class variance, 10.1109/TSMC.1979.4310076).
 *
 * @param nominal shape (2 n), mm, left and right edge of each groove
 */
export function searchGrooves(profile: EdgeProfile, nominal: readonly number[], search: GrooveSearch): GrooveGuess {
  const integral = integrate(profile)
  const [from, to] = [profile.positionMm[0] ?? 0, profile.positionMm[profile.positionMm.length - 1] ?? 0]
  const whole = integral(to)
  let best: GrooveGuess & { score: number } = { edgesMm: [...nominal], contrast: 0, score: -1 }
  const { lower, upper, reachMm, symmetric } = search
  const steps = (range: readonly [number, number]) =>
    Array.from({ length: Math.floor((range[1] - range[0]) / STEP_MM) + 1 }, (_, i) => range[0] + i * STEP_MM)
  for (const shift of steps([-reachMm, reachMm]))
    for (const a of steps(lower))
      for (const b of symmetric ? [a] : steps(upper)) {
        let [inside, width] = [0, 0]
        for (let j = 0; j + 1 < nominal.length; j += 2) {
          const left = Math.max(from, (nominal[j] ?? 0) + shift + a)
          const right = Math.min(to, (nominal[j + 1] ?? 0) + shift - b)
          if (right - left < STEP_MM) continue
          inside += integral(right) - integral(left)
          width += right - left
        }
        const rest = to - from - width
        if (width <= 0 || rest <= 0) continue
        const contrast = (whole - inside) / rest - inside / width
        const score = contrast * contrast * width * rest
        if (score > best.score) {
          const edgesMm = nominal.map((edge, j) => edge + shift + (j % 2 === 0 ? a : -b))
          best = { edgesMm, contrast, score }
        }
      }
  return best
}

/** Integral of the profile's light from its start, linear between bins. */
function integrate({ positionMm, light }: EdgeProfile): (xMm: number) => number {
  const n = positionMm.length
  const sums = new Float64Array(n)
  for (let i = 1; i < n; i++)
    sums[i] = sums[i - 1]! + 0.5 * (light[i]! + light[i - 1]!) * (positionMm[i]! - positionMm[i - 1]!)
  const start = positionMm[0] ?? 0
  const perMm = (n - 1) / ((positionMm[n - 1] ?? 1) - start)
  return (xMm) => {
    let i = Math.min(n - 2, Math.max(0, Math.floor((xMm - start) * perMm)))
    while (i > 0 && positionMm[i]! > xMm) i--
    while (i < n - 2 && positionMm[i + 1]! < xMm) i++
    const [a, b] = [positionMm[i]!, positionMm[i + 1]!]
    const t = Math.min(1, Math.max(0, (xMm - a) / (b - a)))
    return sums[i]! + t * (sums[i + 1]! - sums[i]!)
  }
}
