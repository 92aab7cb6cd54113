import erf from '@stdlib/math-base-special-erf'
import type { Photo } from '../image/decode.js'
import type { Sharpening } from '../image/sharpening.js'
import { codeFromLight, lightFromCode, LUMA_STEPS, type Tone } from '../image/linear-light.js'
import type { CardLayout } from '../layout/schema.js'
import { edgeProfile, type EdgeProfile } from '../lines/edge-profile.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import type { ToPx } from '../coupon/plane-map.js'

export interface FittedSharpening extends Sharpening {
  readonly amountUncertainty: number
  /** Root mean square misfit of the edges, share of the step between black and white. */
  readonly residual: number
}

/** Unsharp masks of cameras and phones: radii of one to two pixels (common practice, no source), a factor of 1.4 wide. */
const RADIUS_PX = 1.2
const RADIUS_SPREAD = 0.35
const AMOUNT_SPREAD = 1
const BLUR_PX = 1.1
const BLUR_SPREAD = 0.4
/** Misfit taken for certain, share of full scale: JPEG and noise averaged over some fifty rows leave less. */
const CODE_SPREAD = 0.003
const REACH_MM = 0.9
/** Steps of the model's grid, pixels. */
const STEP = 0.25
const SHARED = 2
const PER_EDGE = 4

/**
 * The unsharp mask that a camera laid over code values, from the right edges of the bare black patches.
 *
 * Each edge is a Gaussian-blurred step of light, put through the tone curve, sharpened: amount and radius are the same
 * for all, place, blur and levels each edge's own. Blur and mask trade against each other where there is little
 * sharpening, so the radius is held near what cameras use.
 *
 * @param card card millimetres at height 0 to pixels
 * @returns undefined when no edge can be fitted
 */
export function fitSharpening(photo: Photo, tone: Tone, layout: CardLayout, card: ToPx): FittedSharpening | undefined {
  const codes = Float32Array.from({ length: LUMA_STEPS + 1 }, (_, i) => i / LUMA_STEPS)
  const edges = layout.slots.flatMap(({ bareTarget: { blackMm: black } }) => {
    const region = { x0: black.x1 - REACH_MM, x1: black.x1 + REACH_MM, y0: black.y0 + 0.5, y1: black.y1 - 0.5 }
    const profile = edgeProfile({ photo, table: codes }, card, region, 'x', 1)
    return profile.positionMm.length >= 20 ? [{ profile, positionPx: toEdgePx(profile, black.x1) }] : []
  })
  const start = [
    0.5,
    Math.log(RADIUS_PX),
    ...edges.flatMap(({ profile: { light } }) => [0, Math.log(BLUR_PX), light[2] ?? 0, light[light.length - 3] ?? 1]),
  ]
  const offsets: number[] = []
  let count = 0
  for (const { positionPx } of edges) {
    offsets.push(count)
    count += positionPx.length
  }
  if (edges.length < 2) return undefined
  const n = start.length
  const one = (p: ArrayLike<number>, k: number): Float64Array => {
    const { positionPx } = edges[k]!
    const at = SHARED + PER_EDGE * k
    return sharpenedEdge(positionPx, tone, {
      amount: p[0]!,
      radiusPx: Math.exp(p[1]!),
      edgePx: p[at]!,
      blurPx: Math.exp(p[at + 1]!),
      dark: p[at + 2]!,
      light: p[at + 3]!,
    })
  }
  const fit = minimizeSquares(
    (p, residuals, jacobian) => {
      jacobian.fill(0)
      for (const [k, { profile }] of edges.entries()) {
        const model = one(p, k)
        const from = offsets[k]!
        for (let i = 0; i < model.length; i++) residuals[from + i] = (model[i]! - profile.light[i]!) / CODE_SPREAD
        const own = Array.from({ length: PER_EDGE }, (_, j) => SHARED + PER_EDGE * k + j)
        for (const j of [0, 1, ...own]) {
          const ahead = Float64Array.from(p)
          ahead[j]! += DIFFERENCE
          const shifted = one(ahead, k)
          for (let i = 0; i < model.length; i++)
            jacobian[(from + i) * n + j] = (shifted[i]! - model[i]!) / DIFFERENCE / CODE_SPREAD
        }
      }
    },
    start,
    count,
    {
      priors: [
        { index: 0, mean: 0.5, standardUncertainty: AMOUNT_SPREAD },
        { index: 1, mean: Math.log(RADIUS_PX), standardUncertainty: RADIUS_SPREAD },
        ...edges.map((_, k) => ({
          index: SHARED + PER_EDGE * k + 1,
          mean: Math.log(BLUR_PX),
          standardUncertainty: BLUR_SPREAD,
        })),
      ],
      maximumIterations: 60,
      tolerance: 1e-4,
    },
  )
  if (!fit.ok) return undefined
  const p = fit.value.parameters
  const misfit = Math.sqrt(fit.value.residuals.reduce((sum, r) => sum + r * r, 0) / count) * CODE_SPREAD
  const steps = edges.map((_, k) => Math.abs(p[SHARED + PER_EDGE * k + 3]! - p[SHARED + PER_EDGE * k + 2]!))
  return {
    amount: p[0]!,
    radiusPx: Math.exp(p[1]!),
    amountUncertainty: Math.sqrt(fit.value.unscaledCovariance[0] ?? 0),
    residual: misfit / (steps.reduce((sum, s) => sum + s, 0) / steps.length),
  }
}

const DIFFERENCE = 1e-4

const toEdgePx = ({ positionMm, mmPerPx }: EdgeProfile, edgeMm: number): Float64Array =>
  positionMm.map((x) => (x - edgeMm) / mmPerPx)

/**
 * Code values, 0 to 1, across a step under blur, tone curve and unsharp mask.
 *
 * @param positionPx shape (n), ascending
 * @param edge `dark` and `light` are the code values far from the edge
 * @returns shape (n)
 */
function sharpenedEdge(
  positionPx: Float64Array,
  tone: Tone,
  edge: {
    readonly amount: number
    readonly radiusPx: number
    readonly edgePx: number
    readonly blurPx: number
    readonly dark: number
    readonly light: number
  },
): Float64Array {
  const [dark, light] = [lightFromCode(edge.dark, tone), lightFromCode(edge.light, tone)]
  const reach = Math.ceil((4 * edge.radiusPx) / STEP)
  const first = positionPx[0]! - reach * STEP
  const count = Math.ceil((positionPx[positionPx.length - 1]! - first) / STEP) + reach + 2
  const plain = Float64Array.from({ length: count }, (_, i) => {
    const u = (first + i * STEP - edge.edgePx) / edge.blurPx
    return codeFromLight(dark + (light - dark) * 0.5 * (1 + erf(u * Math.SQRT1_2)), tone)
  })
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-0.5 * (((k - reach) * STEP) / edge.radiusPx) ** 2),
  )
  const total = weights.reduce((sum, w) => sum + w, 0)
  const sharp = plain.map((value, i) => {
    if (i < reach || i >= count - reach) return value
    let mean = 0
    for (let k = 0; k < weights.length; k++) mean += weights[k]! * plain[i + k - reach]!
    return value + edge.amount * (value - mean / total)
  })
  return positionPx.map((x) => {
    const place = (x - first) / STEP
    const i = Math.floor(place)
    return sharp[i]! + (place - i) * (sharp[i + 1]! - sharp[i]!)
  })
}
