import type { LightField } from '../image/light-field.js'
import type { RegionMm } from '../image/region.js'
import type { GreyPicture } from '../image/shrink.js'
import { cardPlane, type ToPx } from './plane-map.js'
import type { CameraPose } from '../card/camera-pose.js'
import type { CouponLayout, Slot } from '../layout/schema.js'
import { refuse, type Refusal } from '../outcome.js'
import { patchLight } from '../window/patch-light.js'
import { clippedShare } from './clipped-share.js'
import type { Registration } from './register.js'

/** Below this contrast of grooves and face, share of the lighter, nothing inked lies in the slot. */
export const LEAST_CONTRAST = 0.35
/** A lamp mirrored over more of the features than this spoils whole lines. */
const LARGEST_CLIPPED = 0.01
/** Another way of laying must explain the picture clearly worse. */
const LARGEST_RIVAL = 0.8
/** A window mirrors its surroundings over the black patch: 0.042 of paper light at least, of 42 windows in seven simulated frames. */
const LEAST_MIRRORED = 0.015
const LARGEST_BLUR_PX = 3
const LARGEST_BLUR_MM = 0.13

const ADVICE: Readonly<
  Record<Exclude<Registration['orientation'], 'upright'>, readonly [code: string, advice: string]>
> = {
  turned: ['coupon-turned', 'Turn this coupon by half a turn, so that its key lies at the thick bar.'],
  mirrored: [
    'coupon-mirrored',
    'This coupon was printed mirrored. Switch mirroring off in the slicer and print it again.',
  ],
  'turned-mirrored': [
    'coupon-mirrored',
    'This coupon was printed mirrored and lies turned. Switch mirroring off in the slicer and print it again.',
  ],
}

/** Whether a mirrored lamp spoils the features. @param inSlot coupon mm, lying as the slot says, to pixels */
export function judgeGlare(shrunk: GreyPicture, inSlot: ToPx, coupon: CouponLayout): Refusal | undefined {
  const glare = clippedShare(shrunk, inSlot, featureArea(coupon))
  if (glare <= LARGEST_CLIPPED) return undefined
  return refuse(
    'glare',
    'A lamp is mirrored in this coupon: move the light to the side, or stand elsewhere.',
    `${(100 * glare).toFixed(0)} % of the features are clipped, at most ${100 * LARGEST_CLIPPED} %`,
  ).refusal
}

/** Whether the edges are sharp enough for narrow features. */
export function judgeBlur(blurPx: number, blurMm: number): Refusal | undefined {
  if (blurPx <= LARGEST_BLUR_PX && blurMm <= LARGEST_BLUR_MM) return undefined
  return refuse(
    'out-of-focus',
    'Hold still and focus on the coupons; more light helps.',
    `edges blurred by ${blurPx.toFixed(1)} px (${(1000 * blurMm).toFixed(0)} um), at most ${LARGEST_BLUR_PX} px and ${1000 * LARGEST_BLUR_MM} um`,
  ).refusal
}

/** What holds all inked features of the face, window and legs left out. */
const featureArea = ({ gratings, gaps, window }: CouponLayout): RegionMm => ({
  x0: Math.min(...gratings.map(({ x0Mm }) => x0Mm)),
  x1: window.x0Mm,
  y0: Math.min(...gaps.map(({ y0Mm }) => y0Mm)),
  y1: Math.max(...gratings.map(({ y1Mm }) => y1Mm)),
})

/** Why a registered coupon cannot be measured, if so. */
export function judgeRegistration(
  { contrast, rival, orientation }: Registration,
  { light, pose }: { readonly light: LightField; readonly pose: CameraPose },
  slot: Slot,
  paperLight: number,
): Refusal | undefined {
  if (contrast < LEAST_CONTRAST) {
    const onPaper = cardPlane(pose, 0)
    const [below, bare] = [slot.windowTarget, slot.bareTarget].map(({ blackMm }) => patchLight(light, onPaper, blackMm))
    const mirrored = (below! - bare!) / paperLight
    const detail = `contrast of the features ${contrast.toFixed(2)}, at least ${LEAST_CONTRAST}`
    return mirrored < LEAST_MIRRORED
      ? refuse('slot-empty', 'Lay the coupon of this rung in its slot, or go on without it.', detail).refusal
      : refuse(
          'not-inked',
          'Ink this coupon: draw a thin dark wash into its grooves, let it dry, wipe the face clean.',
          detail,
        ).refusal
  }
  if (rival > LARGEST_RIVAL * contrast)
    return refuse(
      'coupon-unclear',
      'Clean and ink this coupon again and lay it straight in its slot.',
      `two ways of laying it explain the picture about as well: ${contrast.toFixed(2)} and ${rival.toFixed(2)}`,
    ).refusal
  if (orientation !== 'upright') return refuse(...ADVICE[orientation]).refusal
  return undefined
}
