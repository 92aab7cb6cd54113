import type { Photo } from '../image/decode.js'
import type { CardLayout } from '../layout/schema.js'
import type { Gate, RefusalReply } from '../result.js'
import type { ToPx } from '../coupon/plane-map.js'
import { fitSharpening, oddEdgeShape, printedEdges, type FittedSharpening, type PrintedEdge } from './fit-sharpening.js'
import { codeFromLight, SRGB_TONE } from '../image/linear-light.js'
import { fitTone, type FittedTone } from './fit-tone.js'
import { maskUncertainty, type MaskUncertainty } from './mask-uncertainty.js'
import type { BlurredEdge } from './sharpened-edge.js'
import { toneUncertaintyPx } from './tone-uncertainty.js'

/** Path-traced and drawn photographs without sharpening show 0.9 % at most, a grainy one 1.25 %; masks of 0.35 and 0.5 1.8 and 1.7 %. */
const OVERSHOOT_SEEN = 0.0145
/** Amounts of plain drawn and path-traced photographs exceed 0 by 1.8 of their uncertainties at most. */
const MASK_SEEN = 2.5
/** Photographs that nothing smoothed: 2.8 at most; smoothed ones that noise does not betray 3.4 and 5.9. */
const ODD_EDGES = 3.1
/** A mask this weak moves an edge by less than 0.01 px. */
const LEAST_AMOUNT = 0.05
/** Unsharpened path-traced photographs leave 0.14 % at most of the paper's light, drawn ones 0.08 %; masks of 0.3 leave 0.18 % and more. */
const ADDITIVITY_MISFIT = 0.0016
/** Honest path-traced photographs leave 0.15 % of the paper's light, sharpened ones with that taken out 0.3 %. */
const TONE_MISFIT = 0.006
/** Drawn and path-traced photographs that nothing smoothed: 0.05 at most; smoothed ones 0.064 and more. */
const NOISE_CORRELATION = 0.057
/** Honest photographs: none that could be told from rounding; a local tone curve that moves edges by 0.1 px: 5 %. */
const HALO = 0.012
/** A mask wider than this is a local tone curve, and one whose edges fit worse is none that this model knows. */
const WIDEST_MASK_PX = 4
const EDGE_MISFIT = 0.012

/** What a camera did to light and code values, as the card shows it. */
export interface FittedProcessing {
  readonly fitted: FittedTone
  /** Left out where there is none to be seen, or none that an unsharp mask explains. */
  readonly sharpening?: FittedSharpening
  /** What a mask, taken out or too weak to be seen, leaves open of edges; left out where the black edges fit no mask. */
  readonly unseen?: MaskUncertainty
  /** What the patches leave open of edges, pixels per side. */
  readonly tonePx: number
  /** See `oddEdgeShape`; 0 where the black edges fit no mask. */
  readonly oddEdges: number
}

/**
 * Tone curve, and sharpening where the card shows some: each is found with the other undone.
 *
 * A mask shows in three ways: black edges overshoot; their shape is that of a mask by more than its uncertainty allows;
 * or light adds up on the tone patches only with the mask taken out.
 *
 * @param card card millimetres at height 0 to pixels
 * @param overshoot see `edgeOvershoot`
 */
export function fitProcessing(photo: Photo, layout: CardLayout, card: ToPx, overshoot: number): FittedProcessing {
  const plain = fitTone(photo, layout, card)
  const edges = printedEdges(photo, layout, card)
  const first = fitSharpening(edges, plain.residual < TONE_MISFIT ? plain.tone : SRGB_TONE)
  const judged = (found: Pick<FittedProcessing, 'fitted' | 'unseen'>, mask?: FittedSharpening): FittedProcessing => ({
    ...found,
    tonePx: toneUncertaintyPx(found.fitted, couponEdge(found.fitted, (mask ?? first)?.edge.blurPx)),
    oddEdges: mask ? oddEdgeShape(mask) : 0,
  })
  if (!first || first.residual > EDGE_MISFIT) return judged({ fitted: plain })
  const sure = overshoot >= OVERSHOOT_SEEN || first.amount > MASK_SEEN * Math.sqrt(first.covariance[0])
  const odd = !(plain.residual < ADDITIVITY_MISFIT)
  if (first.amount > 0 && (sure || odd)) {
    const toneAfter = (mask: FittedSharpening, near: FittedTone) => fitTone(photo, layout, card, mask, near)
    const both = fitBoth(toneAfter, edges, plain, first)
    const told = both && both.sharpening.amount > LEAST_AMOUNT && (sure || both.fitted.residual < 0.5 * plain.residual)
    if (told) {
      const unseen = maskUncertainty(both.sharpening, both.fitted.tone, true)
      return { ...judged({ fitted: both.fitted, unseen }, both.sharpening), sharpening: both.sharpening }
    }
    if (sure) return judged({ fitted: plain }, first)
  }
  return judged({ fitted: plain, unseen: maskUncertainty(first, plain.tone, false) }, first)
}

/** An inked edge of a coupon: of the paper's light it sends back four fifths, its ink a twentieth. */
const couponEdge = ({ tone, paperLight }: FittedTone, blurPx = 1.1): BlurredEdge => ({
  blurPx,
  dark: codeFromLight(0.05 * paperLight, tone),
  light: codeFromLight(0.82 * paperLight, tone),
})

/**
 * @param toneAfter the tone curve with a mask undone, started from another
 * @returns undefined when what is found is no mask of a camera
 */
function fitBoth(
  toneAfter: (mask: FittedSharpening, near: FittedTone) => FittedTone,
  edges: readonly PrintedEdge[],
  plain: FittedTone,
  first: FittedSharpening,
) {
  let fitted = plain
  let sharpening = first
  for (let round = 0; round < 2; round++) {
    if (sharpening.amount <= 0 || sharpening.radiusPx > WIDEST_MASK_PX) return undefined
    fitted = toneAfter(sharpening, fitted)
    const again = fitSharpening(edges, fitted.tone, sharpening)
    if (!again) return undefined
    sharpening = again
  }
  return sharpening.residual < EDGE_MISFIT ? { fitted, sharpening } : undefined
}

type GateName = Gate['gate']

/** What the camera did to the picture after its sensor, each mark against its limit. */
export function judgeProcessing(marks: {
  readonly overshoot: number
  /** Of the mask that was taken out; 0 where none was. */
  readonly maskAmount: number
  readonly toneMisfit: number
  readonly noiseCorrelation: number
  readonly oddEdges: number
  readonly halo: number
}): Gate[] {
  const gate = (name: GateName, value: number, limit: number): Gate => ({
    gate: name,
    ...(Number.isFinite(value) ? { value } : {}),
    limit,
    passed: value < limit,
  })
  return [
    gate('overshoot', marks.overshoot, OVERSHOOT_SEEN),
    gate('sharpening', marks.maskAmount, LEAST_AMOUNT),
    gate('tone-misfit', marks.toneMisfit, TONE_MISFIT),
    gate('noise-correlation', marks.noiseCorrelation, NOISE_CORRELATION),
    gate('odd-edges', marks.oddEdges, ODD_EDGES),
    gate('halo', Math.abs(marks.halo), HALO),
  ]
}

export const passed = (gates: readonly Gate[], name: GateName): boolean =>
  gates.some(({ gate, passed }) => gate === name && passed)

/** What the marks that passed their limit mean for the person who took the picture. */
export function warningsOf(gates: readonly Gate[], unsharpened: boolean): RefusalReply[] {
  const sharpened = {
    code: 'sharpened',
    advice: unsharpened
      ? "The camera sharpened this picture. How much was read off the card's black edges and taken out; growth is stated with a little more uncertainty. A raw or plain mode is surer."
      : 'The camera sharpened this picture, which moves edges; growth is stated with more uncertainty. Use a raw or plain mode.',
  }
  const smoothed = {
    code: 'smoothed',
    advice:
      'The camera smoothed this picture, or stored it small, which moves edges; growth is stated with more uncertainty. Take it in more light, in a raw or plain mode, and send the original file.',
  }
  const meaning: Record<GateName, { code: string; advice: string }> = {
    overshoot: sharpened,
    sharpening: sharpened,
    'tone-misfit': {
      code: 'tone-unknown',
      advice:
        "The card's tone patches do not agree on a tone curve; growth is stated with more uncertainty. Light the card evenly.",
    },
    'noise-correlation': smoothed,
    'odd-edges': smoothed,
    halo: {
      code: 'local-tone',
      advice:
        'The camera lightened and darkened parts of this picture by themselves, which moves edges; growth is stated with more uncertainty. Switch off HDR and scene modes.',
    },
  }
  const failed = gates.filter(({ passed }) => !passed)
  const told = new Set(failed.map(({ gate }) => meaning[gate]))
  return [...told].map((one) => ({
    ...one,
    detail: failed
      .filter(({ gate }) => meaning[gate] === one)
      .map(
        ({ gate, value, limit }) =>
          `${gate.replace('-', ' ')} ${value === undefined ? 'not determined' : shown(value)}, limit ${shown(limit)}`,
      )
      .join('; '),
  }))
}

const shown = (value: number): string => Number(value.toPrecision(2)).toString()
