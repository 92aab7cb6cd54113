import { mean } from 'simple-statistics'
import type { MaskUncertainty } from '../card/mask-uncertainty.js'
import type { ReadRung, UncertaintyTerm } from '../result.js'
import type { Estimate } from '../statistics/estimate.js'
import { combineUncertainty } from '../statistics/uncertainty.js'
import { REFRACTIVE_INDEX } from './resin.js'

/** What the whole photograph adds to every reading. */
export interface PhotoQuality {
  /** Sharpening's overshoot beside black edges, share of the step. */
  readonly overshoot: number
  /** What an unsharp mask leaves open of edges, whether taken out or too weak to be seen; left out where the card fits none. */
  readonly mask?: MaskUncertainty
  /** What the card's patches leave open of edges, pixels per side; left out where they gave no curve and sRGB was taken on trust. */
  readonly tonePx?: number
  /** Smoothing that spares edges, or tone mapping that follows the surroundings: neither can be taken out. */
  readonly smoothed: boolean
  readonly locallyToned: boolean
}

export interface BudgetInput {
  readonly umPerPx: number
  readonly grooveDepthMm: number
  /** Edge of a pixel of the printer's mask. */
  readonly maskPixelUm: number
  /** Angle between the coupon's normal and the view, its part across the lines, degrees. */
  readonly angleAcrossDeg: number
  readonly inking: ReadRung['inking']
  readonly quality: PhotoQuality
}

/**
 * Per side, um. Path-traced grooves with a wash 12 to 40 um below the face read -5 to +7 um wide on axis: half of the
 * half-range, taken as rectangular. Roller ink that wraps the rim reads -2 to 0 um, but how far it wraps is never known:
 * rims of 30 um left bare read 30 um per side too thin. A wash filled flush (+50 um in width) and bare rims are outside
 * these figures: the card and its sheet say how to ink.
 */
const INK_AND_RIM_UM = { grooves: 3 / Math.sqrt(3) + 0.8, lands: 5 } as const
/** What `askewUm` leaves open at 12 degrees, per side: rims from sharp to round for a wash, uneven lands for a roller. */
const OFF_AXIS_UM_AT_12 = { grooves: 3.5, lands: 3 } as const
/** Grooves are off by 1/(2n) pixel in width, 1/(4n) per side, n 8 and 10; see `vernierPitchMm`. */
const MASK_ROUNDING = 1 / 36
/** Without the patches a phone's S-curve may move an edge by 0.1 px. */
const TONE_UNKNOWN_PX = 0.1
/** Unsharp masks that overshoot by 5-12 % move an edge by 0.05-0.13 px per side. */
const SHARPENING_PX_PER_OVERSHOOT = 1
const OVERSHOOT_UNSEEN = 0.005
/** What coupons of a drawn photograph differ by per side beyond the scatter of their lines: 0.001 plain to 0.0025 sharpened. */
const COUPON_BLUR_PX = 0.003
/** The same of a smoothed one. */
const SMOOTHED_COUPON_PX = 0.013
/** Bilateral smoothing over 1 to 1.5 px moves an edge by 0.03 to 0.12 px per side, a local tone curve by 0.11 (drawn photographs). */
const SMOOTHED_PX = 0.1
const LOCALLY_TONED_PX = 0.1

/**
 * Growth of a coupon from its gratings, with the budget of its uncertainty.
 *
 * Terms that shift all coupons of a photo alike are kept apart: they do not enter differences between rungs.
 *
 * @param gratings growth per side of each grating, um, with the scatter of its lines
 */
export function growthBudget(
  gratings: readonly Estimate[],
  { umPerPx, grooveDepthMm, maskPixelUm, angleAcrossDeg, inking, quality }: BudgetInput,
): { growthUm: ReadRung['growthUm']; terms: UncertaintyTerm[] } {
  const n = gratings.length
  const lines = Math.sqrt(gratings.reduce((sum, g) => sum + g.standardUncertainty ** 2, 0)) / n
  const term = (source: string, standardUncertaintyUm: number, shared: boolean, averages = false): UncertaintyTerm => ({
    source,
    standardUncertaintyUm,
    shared,
    ...(averages ? { averages } : {}),
  })
  const terms = [
    term('scatter of the lines', lines, false),
    term(
      'blur that differs between coupons',
      Math.hypot(quality.smoothed ? SMOOTHED_COUPON_PX : COUPON_BLUR_PX, quality.mask?.couponPx ?? 0) * umPerPx,
      false,
      true,
    ),
    term('view off the axis', OFF_AXIS_UM_AT_12[inking] * (angleAcrossDeg / 12) ** 2, false),
    term('ink and rim of the grooves', INK_AND_RIM_UM[inking], true),
    term("rounding to the mask's pixels", maskPixelUm * MASK_ROUNDING, true),
    term("the camera's tone curve", toneUm(quality, umPerPx), true, quality.tonePx !== undefined),
    term('sharpening by the camera', sharpeningUm(quality, umPerPx), true),
    term('smoothing and local tone by the camera', retouchUm(quality, umPerPx), true),
  ].filter(({ standardUncertaintyUm }) => standardUncertaintyUm > 0)
  const total = (which: readonly UncertaintyTerm[]) =>
    combineUncertainty(which.map(({ standardUncertaintyUm }) => ({ standardUncertainty: standardUncertaintyUm })))
      .standardUncertainty
  return {
    growthUm: {
      value: mean(gratings.map(({ value }) => value)) + askewUm(angleAcrossDeg, grooveDepthMm, inking),
      standardUncertainty: total(terms),
      withinPhotoUncertainty: total(terms.filter(({ shared }) => !shared)),
    },
    terms,
  }
}

/**
 * What a view askew hides of the growth at one side of a groove, um: to be added to what was read.
 *
 * The far wall lies D = d tan(asin(sin t / n)) beside the rim. Behind a washed groove it shows, the less the rounder the
 * rim: path-traced widths gain 0.65 D at a rim of D/2 and 0.05 D at 1.4 D, over rims of 10 to 40 um, which nobody
 * measures, 0.2 D on average. Between inked lands the light far wall looks dark: path-traced grooves of 0.12 to 0.3 mm
 * lose 0.58 D at 12 degrees. Half of each a side.
 *
 * @param angleDeg part of the view's angle across the edges
 */
export function askewUm(angleDeg: number, grooveDepthMm: number, inking: ReadRung['inking']): number {
  const insideRad = Math.asin(Math.sin((angleDeg * Math.PI) / 180) / REFRACTIVE_INDEX)
  const besideUm = grooveDepthMm * 1000 * Math.abs(Math.tan(insideRad))
  return (inking === 'grooves' ? 0.1 : -0.29) * besideUm
}

/** What shifts all coupons alike, um per side. */
export const sharedUncertaintyUm = (terms: readonly UncertaintyTerm[]): number =>
  Math.hypot(...terms.filter(({ shared }) => shared).map(({ standardUncertaintyUm }) => standardUncertaintyUm))

/**
 * Type B part of a gap's width, um: path-traced edges along the build lie within 2 um; off axis as for widths across.
 * What camera processing does to one edge it does to both, in opposite senses.
 */
export const printThroughUncertaintyUm = (umPerPx: number, angleAlongDeg: number, quality: PhotoQuality): number =>
  Math.hypot(
    2,
    0.03 * umPerPx,
    2 * OFF_AXIS_UM_AT_12.grooves * (angleAlongDeg / 12) ** 2,
    2 * toneUm(quality, umPerPx),
    2 * sharpeningUm(quality, umPerPx),
    2 * retouchUm(quality, umPerPx),
  )

const toneUm = ({ tonePx = TONE_UNKNOWN_PX }: PhotoQuality, umPerPx: number): number => tonePx * umPerPx

const sharpeningUm = ({ overshoot, mask }: PhotoQuality, umPerPx: number): number =>
  (mask ? mask.sharedPx : SHARPENING_PX_PER_OVERSHOOT * Math.max(0, overshoot - OVERSHOOT_UNSEEN)) * umPerPx

const retouchUm = ({ smoothed, locallyToned }: PhotoQuality, umPerPx: number): number =>
  Math.hypot(smoothed ? SMOOTHED_PX : 0, locallyToned ? LOCALLY_TONED_PX : 0) * umPerPx
