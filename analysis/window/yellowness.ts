import { converter, differenceCiede2000, modeLab65, modeLrgb, modeRgb, modeXyz65, useMode } from 'culori/fn'
import type { CameraPose } from '../card/camera-pose.js'
import { cardPlane, type ToPx } from '../coupon/plane-map.js'
import type { LightField } from '../image/light-field.js'
import { channelTable, type Tone } from '../image/linear-light.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import type { Estimate } from '../statistics/estimate.js'
import { channelLight } from './patch-light.js'

for (const mode of [modeRgb, modeLrgb, modeXyz65, modeLab65]) useMode(mode)
const xyzOf = converter('xyz65')
const labOf = converter('lab65')
const colourDifference = differenceCiede2000()

/** Colour of a window against bare white of the same photograph, of a relative kind: no spectrum was measured. */
export interface Yellowness {
  /** log10(T_red / T_blue) per mm of resin. */
  readonly perMm: Estimate
  /** Change of CIE b* and of the yellowness index, and colour difference, that `thicknessMm` of resin make of white. */
  readonly deltaB: Estimate
  readonly deltaYellownessIndex: Estimate
  readonly deltaE2000: Estimate
  readonly thicknessMm: number
}

/** Red, green and blue, each a share. */
type Shares = readonly [number, number, number]

/**
 * Yellowness index of ASTM E313 for D65 and the 2 degree observer: 100 (1.2985 X - 1.1335 Z) / Y.
 *
 * @see ASTM E313-15 table 1, as given by colour-science/colour, colour/colorimetry/yellowness.py
 */
export const yellownessIndex = (x: number, y: number, z: number): number => (100 * (1.2985 * x - 1.1335 * z)) / y

/** Neutral print and paper seen by three channels agree to about this, in log10; common practice, no source. */
const CHANNEL_TYPE_B = 0.006
/**
 * The same once a camera has smoothed colours: in three simulated frames (16 windows) red over blue came out 0.021 (rms)
 * too near to grey, a step and a half of an 8-bit b*.
 */
const SMOOTHED_TYPE_B = 0.02
/**
 * Share of the light on the paper below a window that came through the plate: 0.77 by the form factor of a 42 x 13 mm
 * plate 5 mm above for light from everywhere alike; the rest comes in at its sides. In refraction it runs at a slant.
 */
const LIT_THROUGH_PLATE = { share: 0.77, slant: 1.1, relativeUncertainty: 0.12 }

/**
 * Yellowness from white and black patch through the window against the bare ones, channel by channel, in linear light:
 * the ratio of two differences is free of the lamp's colour and of mirrored light.
 */
export function readYellowness(
  input: {
    readonly light: LightField
    readonly tone: Tone
    readonly pose: CameraPose
    readonly coupon: CouponLayout
    readonly smoothed?: boolean
  },
  { windowTarget, bareTarget }: Slot,
  through: ToPx,
): Yellowness {
  const { light, tone, pose, coupon, smoothed } = input
  const table = channelTable(tone)
  const bare = cardPlane(pose, 0)
  const step = (toPx: ToPx, { whiteMm, blackMm }: Slot['windowTarget'], channel: 0 | 1 | 2) => {
    const [white, black] = [whiteMm, blackMm].map((area) => channelLight(light, table, toPx, area, channel)) as [
      Estimate,
      Estimate,
    ]
    const value = white.value - black.value
    return { value, relative: Math.hypot(white.standardUncertainty, black.standardUncertainty) / value }
  }
  const channels = ([0, 1, 2] as const).map((channel) => {
    const [seen, plain] = [step(through, windowTarget, channel), step(bare, bareTarget, channel)]
    return { log: Math.log10(seen.value / plain.value), spread: Math.hypot(seen.relative, plain.relative) / Math.LN10 }
  })
  const thicknessMm = coupon.faceZMm - coupon.plateZ0Mm
  const { share, slant, relativeUncertainty } = LIT_THROUGH_PLATE
  return colourOfResin(
    channels.map(({ log }) => log) as unknown as Shares,
    Math.hypot(smoothed ? SMOOTHED_TYPE_B : CHANNEL_TYPE_B, ...channels.map(({ spread }) => spread)),
    { thicknessMm, pathMm: thicknessMm * (1 + share * slant), relativeUncertainty },
  )
}

/**
 * What a thickness of resin does to white, from log10 of the light of each channel after a path through it.
 *
 * Channels follow Beer and Lambert each for itself: log T goes as the path. Red stands for no colour, so that mirrored
 * and shaded light drop out. b* and the index are then those of white light through `thicknessMm`.
 *
 * @param logs log10 of the share of light left in red, green, blue
 * @param spread standard uncertainty of a difference of two of them
 */
export function colourOfResin(
  logs: Shares,
  spread: number,
  { thicknessMm, pathMm, relativeUncertainty }: { thicknessMm: number; pathMm: number; relativeUncertainty: number },
): Yellowness {
  const perMm = (logs[0] - logs[2]) / pathMm
  const colour = (scale: number, blueShift: number) => {
    const left = logs.map((log) => 10 ** (((log - logs[0]) * scale * thicknessMm) / pathMm)) as unknown as Shares
    const lrgb = { mode: 'lrgb', r: 1, g: left[1], b: left[2] * 10 ** ((-blueShift * thicknessMm) / pathMm) } as const
    const white = { mode: 'lrgb', r: 1, g: 1, b: 1 } as const
    const index = ({ x, y, z }: { x: number; y: number; z: number }) => yellownessIndex(x, y, z)
    return {
      b: (labOf(lrgb).b ?? 0) - (labOf(white).b ?? 0),
      yellow: index(xyzOf(lrgb)) - index(xyzOf(white)),
      difference: colourDifference(lrgb, white),
    }
  }
  const at = colour(1, 0)
  const longer = colour(1 + relativeUncertainty, 0)
  const bluer = colour(1, spread)
  const estimate = (of: 'b' | 'yellow' | 'difference'): Estimate => ({
    value: at[of],
    standardUncertainty: Math.hypot(longer[of] - at[of], bluer[of] - at[of]),
  })
  return {
    perMm: {
      value: perMm,
      standardUncertainty: Math.hypot(spread / pathMm, perMm * relativeUncertainty),
    },
    deltaB: estimate('b'),
    deltaYellownessIndex: estimate('yellow'),
    deltaE2000: estimate('difference'),
    thicknessMm,
  }
}
