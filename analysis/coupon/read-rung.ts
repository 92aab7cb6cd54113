import type { Slot } from '../layout/schema.js'
import type { Refusal } from '../outcome.js'
import type { RefusedRung, Rung } from '../result.js'
import { patchLight } from '../window/patch-light.js'
import { corners, describeRung, type PhotoContext } from './describe-rung.js'
import { judgeGlare, judgeRegistration, LEAST_CONTRAST } from './judge-coupon.js'
import { cardPlane, couponPlane, umPerPxAt, type ToPx } from './plane-map.js'
import { measureCoupon } from './read-coupon.js'
import { registerCoupon } from './register.js'

/** Reads the coupon in one slot: every measurement it yields, or the named reason why it yields none. */
export function readRung(context: PhotoContext, slot: Slot): Rung {
  const { light, pose, coupon } = context
  // The coupons lie on their legs on the paper; what paper adds to their height is below what is seen.
  const face = cardPlane(pose, coupon.faceZMm)
  const common = { slot: slot.slot, exposureS: slot.exposureS }
  const paperLight = patchLight(light, cardPlane(pose, 0), slot.bareTarget.whiteMm)
  const outline = { x0: 0, y0: 0, x1: coupon.sizeMm.x, y1: coupon.sizeMm.y }
  const inSlot: ToPx = (x, y) => face(slot.originMm[0] + x, slot.originMm[1] + y)
  const refused = (refusal: Refusal, toPx: ToPx = inSlot): RefusedRung => ({
    ...common,
    outlinePx: corners(toPx, outline),
    refusal,
  })

  const glare = judgeGlare(context.shrunk, inSlot, coupon)
  if (glare) return refused(glare)

  const registration = registerCoupon(light, context.shrunk, face, slot, coupon, pose.aspect)
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const refusal = judgeRegistration(registration, context, slot, paperLight)
  if (refusal)
    return refused(
      refusal,
      registration.contrast < LEAST_CONTRAST ? inSlot : couponPlane(face, registration.place, middle, pose.aspect),
    )

  const umPerPx = umPerPxAt(face, slot.originMm[0] + middle[0], slot.originMm[1] + middle[1])
  const measured = measureCoupon(light, face, coupon, registration.place, {
    aspect: pose.aspect,
    blurMm: 0.0012 * umPerPx,
    paperLight,
  })
  if (!measured.ok) return refused(measured.refusal, couponPlane(face, registration.place, middle, pose.aspect))
  const reading = describeRung(measured.value, context, slot, registration.inking, umPerPx)
  return reading.ok ? { ...common, ...reading.value } : refused(reading.refusal, measured.value.toPx)
}
