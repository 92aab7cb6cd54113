import { SRGB_TONE } from '../image/linear-light.js'
import type { Photo } from '../image/decode.js'
import type { CardLayout } from '../layout/schema.js'
import type { Gate, RefusalReply } from '../result.js'
import type { ToPx } from '../coupon/plane-map.js'
import { fitSharpening, type FittedSharpening } from './fit-sharpening.js'
import { fitTone, type FittedTone } from './fit-tone.js'

/** Path-traced and drawn photographs without sharpening show 0.9 % at most; a mask of 0.5 and 1 px 1.7 %. */
const OVERSHOOT_SEEN = 0.012
/** Honest path-traced photographs leave 0.15 % of the paper's light, sharpened ones with that taken out 0.3 %. */
const TONE_MISFIT = 0.006
/** Drawn and path-traced photographs with a sensor's noise: 0.23 at most; smoothed ones 0.36 and more. */
const NOISE_CORRELATION = 0.33
/** Honest photographs: none that could be told from rounding; a local tone curve that moves edges by 0.1 px: 5 %. */
const HALO = 0.012
/** A mask wider than this is a local tone curve, and one whose edges fit worse is none that this model knows. */
const WIDEST_MASK_PX = 4
const EDGE_MISFIT = 0.012

/**
 * Tone curve and, where black edges overshoot, the sharpening that came after it: each is found with the other undone.
 *
 * @param card card millimetres at height 0 to pixels
 * @param overshoot see `edgeOvershoot`
 * @returns `sharpening` left out where there is none, or none that an unsharp mask explains
 */
export function fitProcessing(
  photo: Photo,
  layout: CardLayout,
  card: ToPx,
  overshoot: number,
): { readonly fitted: FittedTone; readonly sharpening?: FittedSharpening } {
  const plain = fitTone(photo, layout, card)
  if (overshoot < OVERSHOOT_SEEN) return { fitted: plain }
  let fitted = plain
  let sharpening = fitSharpening(photo, SRGB_TONE, layout, card)
  for (let round = 0; round < 2 && sharpening; round++) {
    if (sharpening.amount <= 0 || sharpening.radiusPx > WIDEST_MASK_PX) return { fitted: plain }
    fitted = fitTone(photo, layout, card, sharpening)
    sharpening = fitSharpening(photo, fitted.tone, layout, card)
  }
  return sharpening && sharpening.residual < EDGE_MISFIT ? { fitted, sharpening } : { fitted: plain }
}

type GateName = Gate['gate']

/** What the camera did to the picture after its sensor, each mark against its limit. */
export function judgeProcessing(marks: {
  readonly overshoot: number
  readonly toneMisfit: number
  readonly noiseCorrelation: number
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
    gate('tone-misfit', marks.toneMisfit, TONE_MISFIT),
    gate('noise-correlation', marks.noiseCorrelation, NOISE_CORRELATION),
    gate('halo', Math.abs(marks.halo), HALO),
  ]
}

export const passed = (gates: readonly Gate[], name: GateName): boolean =>
  gates.some(({ gate, passed }) => gate === name && passed)

/** What the marks that passed their limit mean for the person who took the picture. */
export function warningsOf(gates: readonly Gate[], unsharpened: boolean): RefusalReply[] {
  const advice: Record<GateName, readonly [code: string, advice: string]> = {
    overshoot: [
      'sharpened',
      unsharpened
        ? "The camera sharpened this picture. How much was read off the card's black edges and taken out; growth is stated with a little more uncertainty. A raw or plain mode is surer."
        : 'The camera sharpened this picture, which moves edges; growth is stated with more uncertainty. Use a raw or plain mode.',
    ],
    'tone-misfit': [
      'tone-unknown',
      "The card's tone patches do not agree on a tone curve; growth is stated with more uncertainty. Light the card evenly.",
    ],
    'noise-correlation': [
      'smoothed',
      'The camera smoothed this picture, or stored it small, which moves edges; growth is stated with more uncertainty. Take it in more light, in a raw or plain mode, and send the original file.',
    ],
    halo: [
      'local-tone',
      'The camera lightened and darkened parts of this picture by themselves, which moves edges; growth is stated with more uncertainty. Switch off HDR and scene modes.',
    ],
  }
  return gates
    .filter(({ passed }) => !passed)
    .map(({ gate, value, limit }) => ({
      code: advice[gate][0],
      advice: advice[gate][1],
      detail: `${gate.replace('-', ' ')} ${value === undefined ? 'not determined' : shown(value)}, limit ${shown(limit)}`,
    }))
}

const shown = (value: number): string => Number(value.toPrecision(2)).toString()
