import { max, median } from 'simple-statistics'
import type { LightField } from '../image/light-field.js'
import type { CouponLayout } from '../layout/schema.js'
import { edgeProfile, resampleEvenly, type EdgeProfile } from '../lines/edge-profile.js'
import { locateGap, measureGap } from '../lines/measure-gap.js'
import { couponPlane, type CouponPlace, type ToPx } from './plane-map.js'

export interface RefinedPlace {
  readonly place: CouponPlace
  /** How far the widest gaps have closed, mm; 0 when none is open. */
  readonly closedFromAboveMm: number
}

/** Gaps this wide show their levels by themselves, whatever the print-through usually is. */
const WIDE_GAP_MM = 1.5
const LARGEST_SLANT_MM = 0.12
/** Grooves that lean less than this over a grating's height blur by a tenth of a pixel: no second look. */
const SMALL_TURN_RAD = 0.003
/** A turn that registration missed by 2 degrees puts the gaps, left of the middle, half a millimetre off. */
const ROUGH_REACH_MM = 0.6

/**
 * Turns and shifts a roughly placed coupon until its upright grooves stand upright and its gaps begin where they should.
 *
 * The turn is what brings the lower and the upper half of a grating onto each other; the shift along the build comes from
 * the earlier edges of the wide gaps, which print-through leaves alone.
 */
export function refinePlace(
  light: LightField,
  face: ToPx,
  coupon: CouponLayout,
  start: CouponPlace,
  expected: { readonly aspect: number; readonly blurMm: number; readonly paperLight: number },
): RefinedPlace {
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  let place = start
  for (let round = 0; round < 2; round++) {
    const turn = slant(light, couponPlane(face, place, middle, expected.aspect), coupon, expected.paperLight)
    place = { ...place, rotationRad: place.rotationRad - turn }
    if (Math.abs(turn) < SMALL_TURN_RAD) break
  }
  const wide = coupon.gaps.filter(({ gapMm }) => gapMm > WIDE_GAP_MM)
  const plane = () => couponPlane(face, place, middle, expected.aspect)
  const rough = wide.flatMap((gap) => {
    const edgeMm = locateGap(light, plane(), gap, expected.paperLight, ROUGH_REACH_MM)
    return edgeMm === undefined ? [] : [edgeMm - gap.y0Mm]
  })
  if (rough.length > 0) place = raise(place, median(rough), expected.aspect)
  const open = wide.flatMap((gap) => {
    const measured = measureGap(light, plane(), gap, expected)
    return measured.state === 'open' ? [{ gap, ...measured }] : []
  })
  if (open.length === 0) return { place, closedFromAboveMm: 0 }
  const up = median(open.map(({ gap, earlierEdgeMm }) => earlierEdgeMm - gap.y0Mm))
  return {
    place: raise(place, up, expected.aspect),
    closedFromAboveMm: max(open.map(({ gap, gapMm }) => gap.gapMm - gapMm)),
  }
}

/** Moved along its own build direction. */
function raise(place: CouponPlace, upMm: number, aspect: number): CouponPlace {
  const [c, s] = [Math.cos(place.rotationRad), Math.sin(place.rotationRad)]
  return { ...place, xMm: place.xMm - s * upMm, yMm: place.yMm + (c * upMm) / aspect }
}

/** Angle by which the grooves of the first grating lean to the right, rad. */
function slant(light: LightField, toPx: ToPx, { gratings: [grating] }: CouponLayout, paperLight: number): number {
  if (!grating) return 0
  const { x0Mm, y0Mm, y1Mm, pitchMm, grooves } = grating
  const x = { x0: x0Mm - 0.3, x1: x0Mm + grooves * pitchMm }
  // The lower two thirds: print-through may have closed the rest.
  const third = (y1Mm - y0Mm) / 3
  const lower = edgeProfile(light, toPx, { ...x, y0: y0Mm + 0.3, y1: y0Mm + third }, 'x', paperLight)
  const upper = edgeProfile(light, toPx, { ...x, y0: y0Mm + third, y1: y0Mm + 2 * third - 0.3 }, 'x', paperLight)
  const between = (2 * third - 0.3 + third) / 2 - (0.3 + third) / 2
  return Math.atan(displacement(lower, upper) / between)
}

/** By how many mm the second profile lies to the right of the first: least mean square difference, to a parabola. */
function displacement(first: EdgeProfile, second: EdgeProfile): number {
  const step = first.mmPerPx / 4
  const [a, b] = [first, second].map(({ positionMm, light, fromMm, toMm }) =>
    resampleEvenly(positionMm, light, fromMm, step, Math.floor((toMm - fromMm) / step)),
  ) as [Float64Array, Float64Array]
  const n = Math.min(a.length, b.length)
  const reach = Math.min(Math.floor(LARGEST_SLANT_MM / step), n >> 2)
  let best = 0
  let least = Infinity
  for (let lag = -reach; lag <= reach; lag++) {
    const value = difference(a, b, lag, reach)
    if (value < least) {
      least = value
      best = lag
    }
  }
  if (Math.abs(best) >= reach) return 0
  const [before, after] = [difference(a, b, best - 1, reach), difference(a, b, best + 1, reach)]
  const bend = before - 2 * least + after
  return (best + (bend > 0 ? (before - after) / (2 * bend) : 0)) * step
}

/** Sum of squared differences of a profile and another moved by some steps, clear of the first's ends by `reach`. */
function difference(a: Float64Array, b: Float64Array, lag: number, reach: number): number {
  const end = Math.min(a.length, b.length) - reach
  let sum = 0
  for (let i = reach; i < end; i++) sum += (a[i]! - b[i + lag]!) ** 2
  return sum
}
