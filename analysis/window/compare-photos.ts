import { median } from 'simple-statistics'
import { linearFromSrgb } from '../image/linear-light.js'
import type { ReadLadder, ReadRung, RefusalReply } from '../result.js'

/** Responses of a window that photographs may be compared by. */
export type PhotoSpread = Readonly<Record<'haze' | 'surface' | 'yellowness' | 'score', number>>

/**
 * Spread of one coupon's responses over photographs that differ by camera alone. Measured on the simulated frames that were
 * finished several ways (samples): of haze 0.0032 over the ten unsmoothed, unsharpened ones of four frames (36 degrees of
 * freedom), 0.0066 of the two finished as by a phone from the mean of these (12 coupons). Other light and place
 * are not in it: over five of them the means of two windows read 0.0062 apart, and what the values state covers it.
 */
const SPREAD: Readonly<Record<'plain' | 'finished', PhotoSpread>> = {
  plain: { haze: 0.0032, surface: 0.0028, yellowness: 0.0007, score: 0.35 },
  finished: { haze: 0.0066, surface: 0.0071, yellowness: 0.0015, score: 1.1 },
}

/** Judgements, no source: the simulated photographs span 37 to 39 um, and 1 to 15 degrees within one frame. */
const LIMITS = { scaleRatio: 1.25, offAxisDeg: 10, lightRatio: 2.5, mirrored: 0.05 }

/**
 * Standard uncertainty that a photograph adds to each response of all its windows when they are compared with those of
 * another one, beside what the coupons' own values are uncertain by.
 */
export const spreadOfPhoto = (photo: ReadLadder): PhotoSpread =>
  SPREAD[finishOf(photo).length > 0 ? 'finished' : 'plain']

/**
 * What differs too much between two photographs for their windows to be compared, each with what to do.
 *
 * The bare copies on each card take the light's level, its colour and the camera's tone curve out of every window. What
 * they cannot is judged by its marks: size of a pixel, angle of view, finish, mirrored surroundings. Where the lamp stood is not
 * known from a photograph, but for what of it is mirrored.
 */
export function comparePhotos(a: ReadLadder, b: ReadLadder): RefusalReply[] {
  return [scaleWarning, angleWarning, lightWarning, finishWarning, mirrorWarning].flatMap((check) => check([a, b]))
}

type Pair = readonly [ReadLadder, ReadLadder]

const ratio = (p: number, q: number) => Math.max(p / q, q / p)
const windows = ({ rungs }: ReadLadder): ReadRung[] => rungs.filter((rung) => 'growthUm' in rung)
const typical = (values: readonly number[]) => (values.length > 0 ? median([...values]) : NaN)

function scaleWarning(pair: Pair): RefusalReply[] {
  const [p, q] = pair.map(({ card }) => card.umPerPx) as [number, number]
  return ratio(p, q) <= LIMITS.scaleRatio
    ? []
    : [
        {
          code: 'photos-differ-in-scale',
          advice: 'Photograph both cards from the same distance, each filling the frame.',
          detail: `${p.toFixed(0)} and ${q.toFixed(0)} um a pixel, at most ${LIMITS.scaleRatio} times apart`,
        },
      ]
}

function angleWarning(pair: Pair): RefusalReply[] {
  const [p, q] = pair.map((photo) => typical(windows(photo).map(({ offAxisDeg }) => offAxisDeg))) as [number, number]
  return Math.abs(p - q) > LIMITS.offAxisDeg
    ? [
        {
          code: 'photos-differ-in-angle',
          advice: 'Stand straight above the card for both photographs.',
          detail: `coupons seen ${p.toFixed(0)} and ${q.toFixed(0)} degrees off the upright, at most ${LIMITS.offAxisDeg} apart`,
        },
      ]
    : []
}

/** Light of bare paper, share of full scale, by the palest of the tone patches. */
function paperLight({ tone: { patches } }: ReadLadder): number {
  const [palest] = patches.toSorted((p, q) => q.expectedLight - p.expectedLight)
  return palest ? linearFromSrgb(palest.codeValue) / palest.expectedLight : NaN
}

function lightWarning(pair: Pair): RefusalReply[] {
  const [p, q] = pair.map(paperLight) as [number, number]
  return ratio(p, q) > LIMITS.lightRatio
    ? [
        {
          code: 'photos-differ-in-light',
          advice: 'Take both photographs in the same light, with the same exposure correction.',
          detail: `paper at ${(100 * p).toFixed(0)} and ${(100 * q).toFixed(0)} % of full scale, at most ${LIMITS.lightRatio} times apart`,
        },
      ]
    : []
}

/** What the camera did to a photograph after its sensor. */
const finishOf = ({ gates }: ReadLadder): string[] => gates.filter(({ passed }) => !passed).map(({ gate }) => gate)

function finishWarning(pair: Pair): RefusalReply[] {
  const [p, q] = pair.map((photo) => finishOf(photo).toSorted().join(', ') || 'nothing') as [string, string]
  return p === q
    ? []
    : [
        {
          code: 'photos-differ-in-finish',
          advice:
            'Take both with the same camera app and settings, best without sharpening and smoothing (raw or "pro").',
          detail: `marks of finishing: ${p} on one, ${q} on the other`,
        },
      ]
}

function mirrorWarning(pair: Pair): RefusalReply[] {
  const [p, q] = pair.map((photo) =>
    typical(windows(photo).flatMap(({ window }) => window?.mirroredLight.value ?? [])),
  ) as [number, number]
  return Math.abs(p - q) > LIMITS.mirrored
    ? [
        {
          code: 'photos-differ-in-mirrored-light',
          advice: 'Keep lamp, walls and yourself where they were for both photographs.',
          detail: `windows mirror ${p.toFixed(2)} and ${q.toFixed(2)} of the paper's light, at most ${LIMITS.mirrored} apart`,
        },
      ]
    : []
}
