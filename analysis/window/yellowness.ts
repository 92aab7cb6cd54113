import { converter, differenceCiede2000, modeLab65, modeLrgb, modeRgb, modeXyz65, useMode } from 'culori/fn'
import { max, min, sampleStandardDeviation } from 'simple-statistics'
import type { CameraPose } from '../card/camera-pose.js'
import { cardPlane, type ToPx } from '../coupon/plane-map.js'
import type { LightField } from '../image/light-field.js'
import { channelTable, type Tone } from '../image/linear-light.js'
import type { RegionMm } from '../image/region.js'
import type { BarTarget, CouponLayout, Slot } from '../layout/schema.js'
import type { Estimate } from '../statistics/estimate.js'
import { channelLight } from './patch-light.js'
import { shifted, targetCorner, type Cell, type TargetPlan } from './target-cells.js'

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
/** The same once a camera has smoothed colours: in three simulated frames (18 windows) red over blue came out 0.012 off (rms). */
const SMOOTHED_TYPE_B = 0.012
/**
 * Share of the light on the paper below a window that came through the plate: 0.77 by the form factor of a 42 x 13 mm
 * plate 5 mm above for light from everywhere alike; the rest comes in at its sides. In refraction it runs at a slant.
 */
const LIT_THROUGH_PLATE = { share: 0.77, slant: 1.1, relativeUncertainty: 0.12 }

/**
 * Yellowness from the target through the window against the bare one, channel by channel, in linear light.
 *
 * White patch and medium bars, each less the black patch: the ratio of two such differences is free of the lamp's colour
 * and of mirrored light.
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
  plan: TargetPlan,
): Yellowness {
  const { light, tone, pose, coupon, smoothed } = input
  const table = channelTable(tone)
  const areas = colourAreas(plan)
  const look = (toPx: ToPx, target: BarTarget) => {
    const corner = targetCorner(target)
    const seen = (area: RegionMm) => channelLight(light.photo, table, toPx, shifted(area, ...corner))
    const black = seen(areas.black)
    return areas.lit.map((area) => seen(area).map((value, channel) => value - black[channel]!))
  }
  const [seen, plain] = [look(through, windowTarget), look(cardPlane(pose, 0), bareTarget)]
  const logs = areas.lit.map((_, i) => seen[i]!.map((value, channel) => Math.log10(value / plain[i]![channel]!)))
  const weights = areas.lit.map(({ x0, x1, y0, y1 }) => (x1 - x0) * (y1 - y0))
  const weighted = (values: readonly number[]) =>
    values.reduce((sum, value, i) => sum + value * weights[i]!, 0) / weights.reduce((sum, weight) => sum + weight, 0)
  const redOverBlue = logs.map(([red = NaN, , blue = NaN]) => red - blue)
  const thicknessMm = coupon.faceZMm - coupon.plateZ0Mm
  const { share, slant, relativeUncertainty } = LIT_THROUGH_PLATE
  return colourOfResin(
    [0, 1, 2].map((channel) => weighted(logs.map((log) => log[channel]!))) as unknown as Shares,
    Math.hypot(
      smoothed ? SMOOTHED_TYPE_B : CHANNEL_TYPE_B,
      sampleStandardDeviation(redOverBlue) / Math.sqrt(redOverBlue.length),
    ),
    { thicknessMm, pathMm: thicknessMm * (1 + share * slant), relativeUncertainty },
  )
}

/**
 * Where colour is compared: the white patch and the medium bars, and the black patch.
 *
 * Bars do as well as white, and only many blocks of a JPEG average out its rounding of colour. The fine bars and those
 * across the build lie near the plate's edge, where light that comes in beside it makes resin look up to a third clearer.
 */
function colourAreas({ cells, barsMm: { medium } }: TargetPlan): {
  readonly lit: readonly RegionMm[]
  readonly black: RegionMm
} {
  const hull = (group: Cell['group']): RegionMm => {
    const parts = cells.flatMap((cell) => (cell.group === group ? [cell.areaMm] : []))
    const [x0, y0] = [min(parts.map((part) => part.x0)), min(parts.map((part) => part.y0))]
    return { x0, y0, x1: max(parts.map((part) => part.x1)), y1: max(parts.map((part) => part.y1)) }
  }
  return { lit: [medium, hull('white')], black: hull('black') }
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
