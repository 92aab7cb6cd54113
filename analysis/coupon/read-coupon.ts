import { median } from 'simple-statistics'
import type { LightField } from '../image/light-field.js'
import { measureGap, type GapMeasurement } from '../lines/measure-gap.js'
import { measureGrating, type GratingMeasurement } from '../lines/measure-grating.js'
import { survives } from '../lines/measure-isolated.js'
import type { CouponLayout, IsolatedFeature, XGrating, ZGap } from '../layout/schema.js'
import { refuse, type Outcome, type Refusal } from '../outcome.js'
import { couponPlane, type CouponPlace, type ToPx } from './plane-map.js'
import { refinePlace } from './refine-place.js'

/** What the inked features of one coupon say. */
export interface CouponMeasurement {
  readonly place: CouponPlace
  readonly toPx: ToPx
  readonly gratings: readonly { readonly grating: XGrating; readonly measured: Outcome<GratingMeasurement> }[]
  readonly gaps: readonly { readonly gap: ZGap; readonly measured: GapMeasurement }[]
  readonly isolated: readonly { readonly feature: IsolatedFeature; readonly survives: boolean | undefined }[]
  /** Closing of the open gaps, um, in the coupon's nominal scale; empty when none could be read. */
  readonly printThroughUm: readonly number[]
  readonly refusals: readonly Refusal[]
}

/**
 * Measures the inked features of a coupon that lies upright.
 *
 * The place is refined first; that also says how far the upright grooves have closed from above.
 */
export function measureCoupon(
  light: LightField,
  face: ToPx,
  coupon: CouponLayout,
  registered: CouponPlace,
  expected: { readonly aspect: number; readonly blurMm: number; readonly paperLight: number },
): Outcome<CouponMeasurement> {
  const refined = refinePlace(light, face, coupon, registered, expected)
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const roughly = couponPlane(face, refined.place, middle, expected.aspect)
  const { closedFromAboveMm } = refined
  const gratings = coupon.gratings.map((grating) => ({
    grating,
    measured: measureGrating(light, roughly, grating, { ...expected, closedFromAboveMm }),
  }))
  const read = gratings.flatMap(({ measured }) => (measured.ok ? [measured.value] : []))
  const [first] = read
  if (!first) {
    const [failed] = gratings.flatMap(({ measured }) => (measured.ok ? [] : [measured.refusal]))
    return { ok: false, refusal: failed ?? refuse('edges-not-found', 'Photograph the coupon again.').refusal }
  }
  const levels = {
    landLight: median(read.map(({ landLight }) => landLight)),
    grooveLight: median(read.map(({ grooveLight }) => grooveLight)),
  }
  const blurMm = median(read.map((grating) => grating.blurMm))
  const right = median(read.map(({ offsetMm }) => offsetMm))
  const place = {
    ...refined.place,
    xMm: refined.place.xMm + right * Math.cos(refined.place.rotationRad),
    yMm: refined.place.yMm + (right * Math.sin(refined.place.rotationRad)) / expected.aspect,
  }
  const toPx = couponPlane(face, place, middle, expected.aspect)
  const gaps = coupon.gaps.map((gap) => ({
    gap,
    measured: measureGap(light, toPx, gap, { blurMm, paperLight: expected.paperLight, ...levels }),
  }))
  const scale = median(read.map(({ pitchRatio }) => pitchRatio))
  return {
    ok: true,
    value: {
      place,
      toPx,
      gratings,
      gaps,
      isolated: coupon.isolated.map((feature) => ({
        feature,
        survives: survives(light, toPx, feature, { ...levels, paperLight: expected.paperLight, closedFromAboveMm }),
      })),
      printThroughUm: gaps.flatMap(({ gap, measured }) =>
        measured.state === 'open' ? [(gap.gapMm - measured.gapMm / scale) * 1000] : [],
      ),
      refusals: gratings.flatMap(({ measured }) => (measured.ok ? [] : [measured.refusal])),
    },
  }
}
