import { planLadder } from './first-ladder.js'
import { changeLayerHeight } from './layer-height.js'
import { doseGain } from './layer-transfer.js'

/** What is known of resin and printer before the first ladder. */
export type Known =
  | { readonly kind: 'nothing' }
  /** A setting that works for a similar resin, or this one elsewhere. */
  | { readonly kind: 'setting'; readonly exposureS: number; readonly layerUm: number }
  | {
      readonly kind: 'curve'
      readonly penetrationDepthUm: number
      readonly criticalDoseMjPerCm2: number
      readonly irradianceMwPerCm2: number
    }

export interface FirstLadder {
  readonly exposuresS: readonly number[]
  /** Highest over lowest exposure. */
  readonly span: number
  readonly why: string
}

/** What clear resin often takes on a mask printer, s at 50 um; common practice, no source. */
const USUAL = { exposureS: 2.5, layerUm: 50 } as const
/** Highest over lowest, for a usual value and for one of a similar resin; common practice, no source. */
const SPANS = { nothing: 10, setting: 3 } as const
/** Room beyond what a working curve says: published curves of one resin differ by more between set-ups. */
const ROOM = 1.6
/** As many as a card holds. */
const MOST_RUNGS = 8
const USUAL_RUNGS = 6

/**
 * The first ladder to print, from what is known: geometric, as growth goes with ln(exposure), and the wider the less is
 * known.
 *
 * - nothing: a tenfold range about what clear resin often takes, in proportion to the layer height
 * - a setting: a threefold range about it; at another layer height from one transfer rule to the other besides
 * - a working curve: from the exposure at which the accumulated dose at a wall's edge, half the light, is critical
 *   (t = 2 Ec / (gain I)), to that at which one layer just reaches the one before (t = Ec exp(h / Dp) / I), with room
 *
 * @throws {RangeError} if a number is not above 0
 */
export function planFirstLadder(
  layerUm: number,
  known: Known,
  { timeStepS = 0.1 }: { readonly timeStepS?: number | undefined } = {},
): FirstLadder {
  for (const [what, value] of Object.entries({ layerUm, timeStepS, ...known })) {
    if (what !== 'kind' && !(Number(value) > 0 && Number(value) < Infinity)) {
      throw new RangeError(`planFirstLadder needs ${what} above 0, got ${value}`)
    }
  }
  const { lowS, highS, why } = rangeFor(layerUm, known)
  const rungs = highS / lowS > 5 ? MOST_RUNGS : USUAL_RUNGS
  const ratio = (highS / lowS) ** (1 / (rungs - 1))
  const exposuresS = planLadder({ centreS: Math.sqrt(lowS * highS), ratio, rungs, timeStepS })
  return { exposuresS, span: exposuresS.at(-1)! / exposuresS[0]!, why }
}

function rangeFor(layerUm: number, known: Known): { lowS: number; highS: number; why: string } {
  const about = (centreS: number, span: number) => ({
    lowS: centreS / Math.sqrt(span),
    highS: centreS * Math.sqrt(span),
  })
  if (known.kind === 'nothing') {
    const centreS = (USUAL.exposureS * layerUm) / USUAL.layerUm
    return { ...about(centreS, SPANS.nothing), why: 'a tenfold range, as nothing is known of resin and printer' }
  }
  if (known.kind === 'setting') {
    if (known.layerUm === layerUm) {
      return { ...about(known.exposureS, SPANS.setting), why: 'a threefold range about the setting of a similar resin' }
    }
    const { bond, accumulated } = changeLayerHeight({ ...known, fromUm: known.layerUm, toUm: layerUm })
    const [low, high] = [bond.exposureS, accumulated.exposureS].sort((a, b) => a - b) as [number, number]
    return {
      lowS: low / Math.sqrt(SPANS.setting),
      highS: high * Math.sqrt(SPANS.setting),
      why: `about the setting of a similar resin at ${known.layerUm} um, carried to ${layerUm} um by both rules`,
    }
  }
  const { penetrationDepthUm, criticalDoseMjPerCm2, irradianceMwPerCm2 } = known
  const criticalS = criticalDoseMjPerCm2 / irradianceMwPerCm2
  const sizeS = (2 * criticalS) / doseGain(layerUm, penetrationDepthUm)
  const bondS = criticalS * Math.exp(layerUm / penetrationDepthUm)
  return {
    lowS: Math.min(sizeS, bondS) / ROOM,
    highS: Math.max(sizeS, bondS) * ROOM,
    why: 'from where walls should come out to size to where single layers should bond, by the working curve, with room',
  }
}
