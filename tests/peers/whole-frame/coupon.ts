import { linearFromSrgb } from '../../../analysis/image/linear-light.js'
import type { CouponLayout, RectMm, Slot } from '../../../analysis/layout/schema.js'
import { cv, type Mat, type Own } from './opencv.js'
import type { RectifiedCard } from './rectified-card.js'

/** A coupon's face is 8 mm nearer to a camera some 400 mm away than the card is, and looks that much larger. */
const FACE_MAGNIFICATION = 1.02
/** How far from its place on the card a coupon may appear: laid askew, and shifted by the height of its face. */
const REACH_MM = 4
const TEMPLATE_PX_PER_MM = 5
const TURNS_DEG = [-3, -2, -1, 0, 1, 2, 3] as const

/** sRGB codes to linear light. */
export const LINEAR = Float64Array.from({ length: 256 }, (_, code) => linearFromSrgb(code / 255))

/** A coupon found on the rectified card. */
export interface FoundCoupon {
  readonly pxPerMm: number
  /** Mean linear light of each column, or of each row from the lowest up, of a rectangle of the coupon. */
  readonly profile: (rect: RectMm, along: 'x' | 'y') => Float64Array
}

/** The coupon with dark grooves, as it looks on the rectified card, at each turn. */
export function drawTemplates({ sizeMm, prisms }: CouponLayout, own: Own): Mat[] {
  const scale = TEMPLATE_PX_PER_MM * FACE_MAGNIFICATION
  const [width, height] = [Math.round(sizeMm.x * scale), Math.round(sizeMm.y * scale)]
  const upright = own(new cv.Mat(height, width, cv.CV_8UC1))
  const pixels = upright.data.fill(220)
  for (const { kind, polygon } of prisms) {
    if (kind !== 'void') continue
    const [xs, ys] = [polygon.map(([x]) => x * scale), polygon.map(([, y]) => height - y * scale)]
    const [left, right] = [Math.round(Math.min(...xs)), Math.round(Math.max(...xs))]
    for (let row = Math.round(Math.min(...ys)); row < Math.max(...ys); row++)
      pixels.fill(40, row * width + left, row * width + right)
  }
  return TURNS_DEG.map((degrees) => {
    const turned = own(new cv.Mat())
    const about = own(cv.getRotationMatrix2D(new cv.Point(width / 2, height / 2), degrees, 1))
    const size = new cv.Size(width, height)
    cv.warpAffine(upright, turned, about, size, cv.INTER_CUBIC, cv.BORDER_REPLICATE, new cv.Scalar(0))
    return turned
  })
}

/** Finds the coupon of a slot by matching the templates. */
export function findCoupon(card: RectifiedCard, { originMm }: Slot, templates: readonly Mat[], own: Own): FoundCoupon {
  const { picture, pxPerMm, layout } = card
  const { sizeMm } = layout.coupon
  const centre = [
    (originMm[0] + sizeMm.x / 2 + layout.card.sizeMm.x / 2) * pxPerMm,
    (layout.card.sizeMm.y / 2 - originMm[1] - sizeMm.y / 2) * pxPerMm,
  ] as const
  const [halfX, halfY] = [(sizeMm.x / 2 + REACH_MM) * pxPerMm, (sizeMm.y / 2 + REACH_MM) * pxPerMm]
  const left = Math.max(0, Math.round(centre[0] - halfX))
  const top = Math.max(0, Math.round(centre[1] - halfY))
  const width = Math.min(picture.cols - left, Math.round(2 * halfX))
  const height = Math.min(picture.rows - top, Math.round(2 * halfY))
  const around = own(picture.roi(new cv.Rect(left, top, width, height)))
  const small = own(new cv.Mat())
  const shrink = TEMPLATE_PX_PER_MM / pxPerMm
  cv.resize(around, small, new cv.Size(Math.round(width * shrink), Math.round(height * shrink)), 0, 0, cv.INTER_AREA)
  const matches = templates.map((template) => {
    const scores = own(new cv.Mat())
    cv.matchTemplate(small, template, scores, cv.TM_CCOEFF_NORMED)
    const { maxVal, maxLoc } = cv.minMaxLoc(scores)
    return { score: maxVal, x: (maxLoc.x + template.cols / 2) / shrink, y: (maxLoc.y + template.rows / 2) / shrink }
  })
  const best = matches.reduce((k, { score }, i) => (score > (matches[k]?.score ?? -1) ? i : k), 0)
  const { x, y } = matches[best]!
  const [before, here, after] = [best - 1, best, best + 1].map((i) => matches[i]?.score)
  const bend = (before ?? 0) - 2 * (here ?? 0) + (after ?? 0)
  const between = before === undefined || after === undefined || bend >= 0 ? 0 : (before - after) / (2 * bend)
  const turn = (TURNS_DEG[best] ?? 0) + between

  const couponPxPerMm = pxPerMm * FACE_MAGNIFICATION
  const straighten = ({ x0, y0, x1, y1 }: RectMm) => {
    const size = new cv.Size(Math.round((x1 - x0) * couponPxPerMm), Math.round((y1 - y0) * couponPxPerMm))
    // The coupon's middle to the rectangle's.
    const dx = ((x0 + x1 - sizeMm.x) / 2) * couponPxPerMm
    const dy = ((sizeMm.y - y0 - y1) / 2) * couponPxPerMm
    const matrix = own(cv.getRotationMatrix2D(new cv.Point(x, y), -turn, 1))
    const m = matrix.data64F
    m[2] = (m[2] ?? 0) + size.width / 2 - x - dx
    m[5] = (m[5] ?? 0) + size.height / 2 - y - dy
    const upright = own(new cv.Mat())
    cv.warpAffine(around, upright, matrix, size, cv.INTER_CUBIC, cv.BORDER_REPLICATE, new cv.Scalar(0))
    return upright
  }
  return {
    pxPerMm: couponPxPerMm,
    profile: (rect, along) => {
      const { data, rows, cols } = straighten(rect)
      const light = new Float64Array(along === 'x' ? cols : rows)
      for (let i = 0; i < rows * cols; i++)
        if (along === 'x') light[i % cols]! += LINEAR[data[i]!]! / rows
        else light[rows - 1 - Math.floor(i / cols)]! += LINEAR[data[i]!]! / cols
      return light
    },
  }
}
