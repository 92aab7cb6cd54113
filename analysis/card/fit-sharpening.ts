import { median, sampleStandardDeviation } from 'simple-statistics'
import type { Photo } from '../image/decode.js'
import type { Sharpening } from '../image/sharpening.js'
import { LUMA_STEPS, type Tone } from '../image/linear-light.js'
import type { CardLayout } from '../layout/schema.js'
import { edgeProfile, type EdgeProfile } from '../lines/edge-profile.js'
import { sharpenedEdge, type BlurredEdge } from './sharpened-edge.js'
import { minimizeSquares } from '../statistics/levenberg-marquardt.js'
import { umPerPxAt, type ToPx } from '../coupon/plane-map.js'

export interface FittedSharpening extends Sharpening {
  /** Covariance of the amount and the radius's logarithm, shape (2, 2), row by row, from how well the edges fit. */
  readonly covariance: readonly [number, number, number, number]
  /** Root mean square misfit of the edges, share of the step between black and white. */
  readonly residual: number
  /** The edges that showed it, before the mask: median, and how far blur differs between them, as a share. */
  readonly edge: BlurredEdge
  readonly blurSpread: number
  /** All of the fit, for another to start from. */
  readonly parameters: Float64Array
}

/** The right edge of a bare black patch: code values, 0 to 1, across it. */
export interface PrintedEdge {
  readonly profile: EdgeProfile
  /** Shape (n), pixels from where the card has it. */
  readonly positionPx: Float64Array
}

/** Unsharp masks of cameras and phones: radii of one to two pixels (common practice, no source), a factor of 1.4 wide. */
const RADIUS_PX = 1.2
const RADIUS_SPREAD = 0.35
const AMOUNT_SPREAD = 1
const BLUR_PX = 1.1
const BLUR_SPREAD = 0.4
/** Misfit taken for certain, share of full scale: JPEG and noise averaged over some fifty rows leave less. */
const CODE_SPREAD = 0.003
/** Beyond the reach of blur and mask, and before the next edge and much of the light's fall. */
const REACH_PX = 10
const REACH_MM = 0.9
const SHARED = 2
const PER_EDGE = 4

/**
 * The right edges of the bare black patches.
 *
 * @param card card millimetres at height 0 to pixels
 */
export function printedEdges(photo: Photo, layout: CardLayout, card: ToPx): PrintedEdge[] {
  const reachMm = Math.min(REACH_MM, (REACH_PX * umPerPxAt(card, 0, 0)) / 1000)
  const codes = Float32Array.from({ length: LUMA_STEPS + 1 }, (_, i) => i / LUMA_STEPS)
  return layout.slots.flatMap(({ bareTarget: { blackMm: black } }) => {
    const region = { x0: black.x1 - reachMm, x1: black.x1 + reachMm, y0: black.y0 + 0.5, y1: black.y1 - 0.5 }
    const profile = edgeProfile({ photo, table: codes }, card, region, 'x', 1)
    return profile.positionMm.length >= 20 ? [{ profile, positionPx: toEdgePx(profile, black.x1) }] : []
  })
}

/**
 * The unsharp mask that a camera laid over code values, from printed edges.
 *
 * Each edge is a Gaussian-blurred step of light, put through the tone curve, sharpened: amount and radius are the same
 * for all, place, blur and levels each edge's own. Blur and mask trade against each other where there is little
 * sharpening, so the radius is held near what cameras use.
 *
 * @param near a fit of the same edges to start from
 * @returns undefined when no edge can be fitted
 */
export function fitSharpening(
  edges: readonly PrintedEdge[],
  tone: Tone,
  near?: FittedSharpening,
): FittedSharpening | undefined {
  const start = near?.parameters ?? [
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
  const fit = minimizeSquares(evaluateEdges.bind(undefined, edges, tone, offsets), start, count, {
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
  })
  if (!fit.ok) return undefined
  const { parameters: p, unscaledCovariance: c, residuals } = fit.value
  const misfit = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / count)
  const own = edges.map((_, k) => {
    const [logBlur = 0, dark = 0, light = 1] = p.subarray(SHARED + PER_EDGE * k + 1, SHARED + PER_EDGE * (k + 1))
    return { logBlur, dark, light }
  })
  const edge = {
    blurPx: Math.exp(median(own.map(({ logBlur }) => logBlur))),
    dark: median(own.map(({ dark }) => dark)),
    light: median(own.map(({ light }) => light)),
  }
  const scale = misfit ** 2
  return {
    amount: p[0]!,
    radiusPx: Math.exp(p[1]!),
    covariance: [scale * c[0]!, scale * c[1]!, scale * c[n]!, scale * c[n + 1]!],
    residual: (misfit * CODE_SPREAD) / Math.abs(edge.light - edge.dark),
    edge,
    blurSpread: sampleStandardDeviation(own.map(({ logBlur }) => logBlur)),
    parameters: p,
  }
}

/**
 * How far the shape of the black edges lies outside what a lens and a camera's mask give, in standard uncertainties.
 *
 * Smoothing that spares edges leaves them duller than a blurred step, as would a mask of negative amount; sharpened after it,
 * steeper in their middle than a mask of a camera's radius makes them.
 */
export function oddEdgeShape({ amount, radiusPx, covariance }: FittedSharpening): number {
  const duller = -amount / Math.sqrt(covariance[0])
  return amount < 0 ? duller : Math.max(0, Math.log(RADIUS_PX / radiusPx) / Math.sqrt(covariance[3]))
}

const DIFFERENCE = 1e-4

/** Parameters: amount, ln of the radius, then of each edge place, ln of the blur, dark and light. */
function evaluateEdges(
  edges: readonly PrintedEdge[],
  tone: Tone,
  offsets: readonly number[],
  p: Float64Array,
  residuals: Float64Array,
  jacobian: Float64Array,
): void {
  jacobian.fill(0)
  for (const [k, { profile, positionPx }] of edges.entries()) {
    const model = edgeCodes(positionPx, tone, p, k)
    const from = offsets[k]!
    for (let i = 0; i < model.length; i++) residuals[from + i] = (model[i]! - profile.light[i]!) / CODE_SPREAD
    for (let parameter = 0; parameter < SHARED + PER_EDGE; parameter++) {
      const j = parameter < SHARED ? parameter : parameter + PER_EDGE * k
      const ahead = p.slice()
      ahead[j]! += DIFFERENCE
      const shifted = edgeCodes(positionPx, tone, ahead, k)
      for (let i = 0; i < model.length; i++)
        jacobian[(from + i) * p.length + j] = (shifted[i]! - model[i]!) / DIFFERENCE / CODE_SPREAD
    }
  }
}

/** Code values of edge `k` under parameters of the fit. */
function edgeCodes(positionPx: Float64Array, tone: Tone, p: Float64Array, k: number): Float64Array {
  const at = SHARED + PER_EDGE * k
  const fromEdge = positionPx.slice()
  for (let i = 0; i < fromEdge.length; i++) fromEdge[i]! -= p[at]!
  const edge = { blurPx: Math.exp(p[at + 1]!), dark: p[at + 2]!, light: p[at + 3]! }
  return sharpenedEdge(fromEdge, tone, edge, { amount: p[0]!, radiusPx: Math.exp(p[1]!) })
}

const toEdgePx = ({ positionMm, mmPerPx }: EdgeProfile, edgeMm: number): Float64Array =>
  positionMm.map((x) => (x - edgeMm) / mmPerPx)
