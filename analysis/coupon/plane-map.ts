import { distort, planeHomography, applyHomography, type CameraPose } from '../card/camera-pose.js'

type Point = readonly [number, number]

/** From millimetres of some flat thing (coupon face, card) to pixels. */
export type ToPx = (xMm: number, yMm: number) => Point

/** Card millimetres at one height to pixels, the homography worked out once. */
export function cardPlane(pose: CameraPose, zMm: number): ToPx {
  return throughPlane.bind(undefined, pose, planeHomography(pose, zMm))
}

function throughPlane(pose: CameraPose, homography: readonly number[], xMm: number, yMm: number): Point {
  const [x, y] = applyHomography(homography, xMm, yMm)
  return distort(pose, x, y)
}

/** Size of a pixel at a place of a plane, um: the root of its area. */
export function umPerPxAt(toPx: ToPx, xMm: number, yMm: number): number {
  const [o, a, b] = [toPx(xMm, yMm), toPx(xMm + 1, yMm), toPx(xMm, yMm + 1)]
  return 1000 / Math.sqrt(Math.abs((a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])))
}

/** How a coupon lies: its own millimetres to card millimetres at the height of its face. */
export interface CouponPlace {
  readonly xMm: number
  readonly yMm: number
  readonly rotationRad: number
  /** Size against nominal as seen, with what camera height, print scale and shrinkage leave. */
  readonly scale: number
  /** Shown mirrored in x, as a mirrored print would be. */
  readonly mirrored: boolean
}

/**
 * Coupon millimetres (about its centre `middle`) to pixels of its face.
 *
 * @param aspect of the printed card: its millimetres are stretched by the printer, the coupon's are not
 */
export function couponPlane(
  face: ToPx,
  { xMm, yMm, rotationRad, scale, mirrored }: CouponPlace,
  middle: Point,
  aspect: number,
): ToPx {
  const c = Math.cos(rotationRad) * scale
  const s = Math.sin(rotationRad) * scale
  return throughCoupon.bind(undefined, face, { xMm, yMm, c, s, flip: mirrored ? -1 : 1, middle, aspect })
}

interface CouponLie {
  readonly xMm: number
  readonly yMm: number
  /** Cosine and sine of the turn times the scale. */
  readonly c: number
  readonly s: number
  readonly flip: number
  readonly middle: Point
  readonly aspect: number
}

function throughCoupon(face: ToPx, { xMm, yMm, c, s, flip, middle, aspect }: CouponLie, u: number, v: number): Point {
  const du = (u - middle[0]) * flip
  const dv = v - middle[1]
  return face(xMm + c * du - s * dv, yMm + (s * du + c * dv) / aspect)
}
