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
  const whole = integralAt(integral, to)
  const best = { lower: 0, upper: 0, contrast: 0, score: -1 }
  const { lower, reachMm, symmetric } = search
  const upper = symmetric ? lower : search.upper
  const steps = (range: readonly [number, number]) => Math.floor((range[1] - range[0]) / STEP_MM) + 1
  const [shifts, lowers, uppers] = [steps([-reachMm, reachMm]), steps(lower), steps(upper)]
  const lefts = nominal.filter((_, j) => j % 2 === 0)
  const rights = nominal.filter((_, j) => j % 2 === 1)
  const narrowest = Math.min(...rights.map((right, j) => right - (lefts[j] ?? 0)))
  // The light of all grooves is a sum over their right edges less one over their left: each is worked out once a step.
  const left = sumsAt(integral, lefts, lower[0] - reachMm, shifts + lowers - 1)
  const right = sumsAt(integral, rights, -upper[0] - reachMm - (uppers - 1) * STEP_MM, shifts + uppers - 1)
  for (let i = 0; i < shifts; i++)
    for (let j = 0; j < lowers; j++)
      for (let k = symmetric ? j : 0; k < (symmetric ? j + 1 : uppers); k++) {
        const a = lower[0] + j * STEP_MM
        const b = upper[0] + k * STEP_MM
        const l = i + j
        const r = i - k + uppers - 1
        const inside = right.light[r]! - left.light[l]!
        const width = right.place[r]! - left.place[l]!
        const rest = to - from - width
        if (narrowest - a - b < STEP_MM || width <= 0 || rest <= 0) continue
        const contrast = (whole - inside) / rest - inside / width
        const score = contrast * contrast * width * rest
        if (score > best.score) {
          best.score = score
          best.contrast = contrast
          best.lower = i * STEP_MM - reachMm + a
          best.upper = i * STEP_MM - reachMm - b
        }
      }
  const edgesMm = nominal.map((edge, j) => edge + (j % 2 === 0 ? best.lower : best.upper))
  return { edgesMm, contrast: best.contrast }
}

interface Integral {
  /** Shape (n), mm. */
  readonly positionMm: Float64Array
  /** Shape (n), of the light from the first position. */
  readonly sums: Float64Array
}

function integrate({ positionMm, light }: EdgeProfile): Integral {
  const sums = new Float64Array(positionMm.length)
  for (let i = 1; i < sums.length; i++)
    sums[i] = sums[i - 1]! + 0.5 * (light[i]! + light[i - 1]!) * (positionMm[i]! - positionMm[i - 1]!)
  return { positionMm, sums }
}

/** Linear between positions. */
function integralAt({ positionMm, sums }: Integral, xMm: number): number {
  const n = positionMm.length
  const start = positionMm[0] ?? 0
  const perMm = (n - 1) / ((positionMm[n - 1] ?? 1) - start)
  let i = Math.min(n - 2, Math.max(0, Math.floor((xMm - start) * perMm)))
  while (i > 0 && positionMm[i]! > xMm) i--
  while (i < n - 2 && positionMm[i + 1]! < xMm) i++
  const [a, b] = [positionMm[i]!, positionMm[i + 1]!]
  const t = Math.min(1, Math.max(0, (xMm - a) / (b - a)))
  return sums[i]! + t * (sums[i + 1]! - sums[i]!)
}

/** Sums over edges, kept within the profile, of their places and of the light up to them, for shifts of steps. */
function sumsAt(
  integral: Integral,
  edges: readonly number[],
  firstMm: number,
  count: number,
): { readonly place: Float64Array; readonly light: Float64Array } {
  const { positionMm } = integral
  const [from, to] = [positionMm[0] ?? 0, positionMm[positionMm.length - 1] ?? 0]
  const sums = { place: new Float64Array(count), light: new Float64Array(count) }
  for (let k = 0; k < count; k++)
    for (const edge of edges) {
      const place = Math.min(to, Math.max(from, edge + firstMm + k * STEP_MM))
      sums.place[k]! += place
      sums.light[k]! += integralAt(integral, place)
    }
  return sums
}
