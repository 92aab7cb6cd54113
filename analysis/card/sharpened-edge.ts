import { codeFromLight, lightFromCode, type Tone } from '../image/linear-light.js'
import type { Sharpening } from '../image/sharpening.js'
import { normalStep } from '../statistics/normal-step.js'

/** A step of light as the lens leaves it. */
export interface BlurredEdge {
  /** Standard deviation of the Gaussian blur. */
  readonly blurPx: number
  /** Code values far from the edge, 0 to 1. */
  readonly dark: number
  readonly light: number
}

/** Steps of the model's grid, pixels: fine enough for a cubic between them under a blur of 0.6 px and more. */
const STEP = 0.5

/**
 * Code values, 0 to 1, across a step under blur, tone curve and unsharp mask.
 *
 * @param positionPx shape (n), ascending, from the edge
 * @returns shape (n)
 */
export function sharpenedEdge(
  positionPx: ArrayLike<number>,
  tone: Tone,
  edge: BlurredEdge,
  { amount, radiusPx }: Sharpening,
): Float64Array {
  const [dark, light] = [lightFromCode(edge.dark, tone), lightFromCode(edge.light, tone)]
  const reach = Math.ceil((4 * radiusPx) / STEP)
  const first = positionPx[0]! - (reach + 1) * STEP
  const count = Math.ceil((positionPx[positionPx.length - 1]! - first) / STEP) + reach + 3
  const plain = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const u = (first + i * STEP) / edge.blurPx
    // Far from the edge the curve is known without working it out.
    plain[i] =
      u < -SATURATED
        ? edge.dark
        : u > SATURATED
          ? edge.light
          : codeFromLight(dark + (light - dark) * normalStep(u), tone)
  }
  const half = new Float64Array(reach + 1)
  for (let k = 0; k <= reach; k++) half[k] = Math.exp(-0.5 * ((k * STEP) / radiusPx) ** 2)
  let total = -1
  for (const weight of half) total += 2 * weight
  const sharp = plain.slice()
  for (let i = reach; i < count - reach; i++) {
    let mean = plain[i]!
    for (let k = 1; k <= reach; k++) mean += half[k]! * (plain[i - k]! + plain[i + k]!)
    sharp[i]! += amount * (plain[i]! - mean / total)
  }
  const codes = new Float64Array(positionPx.length)
  for (let i = 0; i < codes.length; i++) codes[i] = cubicAt(sharp, (positionPx[i]! - first) / STEP)
  return codes
}

/** Catmull and Rom's cubic through even steps; one step at least must lie before and two after. */
function cubicAt(values: Float64Array, place: number): number {
  const i = Math.floor(place)
  const t = place - i
  const [a, b, c, d] = [values[i - 1]!, values[i]!, values[i + 1]!, values[i + 2]!]
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)))
}

/** Blurs beyond which a step changes by less than 1e-6. */
const SATURATED = 5
