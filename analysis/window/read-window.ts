import { cardPlane } from '../coupon/plane-map.js'
import { REFRACTIVE_INDEX } from '../coupon/resin.js'
import type { CameraPose } from '../card/camera-pose.js'
import type { LightField } from '../image/light-field.js'
import { channelTable, type Tone } from '../image/linear-light.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import type { Estimate } from '../statistics/estimate.js'
import { barContrast, channelLight, patchLight } from './bar-contrast.js'

export interface WindowReading {
  /** Our relative haze index: share of the bars' contrast lost to light scattered wide. Not a standard's haze. */
  readonly haze: Estimate
  /** log10(T_red / T_blue) per mm of resin. */
  readonly yellownessPerMm: Estimate
  /** Light through the window over that of bare paper, mirrored light removed. */
  readonly transmission: number
}

/** What three path-traced lights disagree by (0.006) and the index's offset from the scattered share (0.01). */
const HAZE_TYPE_B = 0.012
/** Neutral print and paper seen by three channels agree to about this; common practice, no source. */
const COLOUR_TYPE_B = 0.004
const LARGEST_VEIL = 0.2
const LEAST_TRANSMISSION = 0.2

/**
 * Haze and yellowness from the target seen through a coupon's window against its bare copy on the same card.
 *
 * Index = 1 - [A / (DC - v)] through the window / [A / DC] bare, with A the fundamental amplitude and DC the mean of the
 * bars along the build, v = K_window - T K_bare the light mirrored by the window and T = (W - K)_window / (W - K)_bare
 * from the white and black patches. The bars' own mean takes out uneven light below the window. Bars of 1 mm: they
 * lose what scatters beyond about 5 degrees; finer ones would book the softness of layer lines and lens as haze.
 *
 * @returns the reading, or a refusal: `glare-in-window`, `window-dark`
 */
export function readWindow(
  light: LightField,
  tone: Tone,
  pose: CameraPose,
  slot: Slot,
  coupon: CouponLayout,
): Outcome<WindowReading> {
  const thicknessMm = coupon.faceZMm - coupon.plateZ0Mm
  // Seen through a plate, the paper seems raised by d (1 - 1/n).
  const through = cardPlane(pose, thicknessMm * (1 - 1 / REFRACTIVE_INDEX))
  const bare = cardPlane(pose, 0)
  const { windowTarget, bareTarget } = slot
  const white = [patchLight(light, through, windowTarget.whiteMm), patchLight(light, bare, bareTarget.whiteMm)] as const
  const black = [patchLight(light, through, windowTarget.blackMm), patchLight(light, bare, bareTarget.blackMm)] as const
  const transmission = (white[0] - black[0]) / (white[1] - black[1])
  if (!(transmission > LEAST_TRANSMISSION))
    return refuse('window-dark', 'Clean the window and light it evenly.', `transmission ${transmission.toFixed(2)}`)
  const veil = black[0] - transmission * black[1]
  if (veil > LARGEST_VEIL * white[1])
    return refuse(
      'glare-in-window',
      'A lamp or bright wall is mirrored in the window: move the light to the side or stand elsewhere.',
      `mirrored light ${(veil / white[1]).toFixed(2)} of the paper's`,
    )
  const seen = barContrast(light, through, windowTarget.medium)
  const plain = barContrast(light, bare, bareTarget.medium)
  const kept = seen.amplitude / (seen.mean - veil) / (plain.amplitude / plain.mean)

  const table = channelTable(tone)
  const channel = (c: 0 | 1 | 2) => {
    const through_ = (area: Slot['windowTarget']['whiteMm']) => channelLight(light, table, through, area, c)
    const bare_ = (area: Slot['windowTarget']['whiteMm']) => channelLight(light, table, bare, area, c)
    return (
      (through_(windowTarget.whiteMm) - through_(windowTarget.blackMm)) /
      (bare_(bareTarget.whiteMm) - bare_(bareTarget.blackMm))
    )
  }
  const yellowness = Math.log10(channel(0) / channel(2)) / thicknessMm
  if (!Number.isFinite(kept) || !Number.isFinite(yellowness))
    return refuse('window-dark', 'Clean the window and light it evenly.', 'no light through the window')
  return {
    ok: true,
    value: {
      haze: { value: 1 - kept, standardUncertainty: HAZE_TYPE_B },
      yellownessPerMm: { value: yellowness, standardUncertainty: COLOUR_TYPE_B },
      transmission,
    },
  }
}
