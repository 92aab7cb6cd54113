import type { CouponLayout, RectMm, Slot } from '../../../analysis/layout/schema.js'
import { placed, type Placement, type PlaneMap } from './camera.js'
import { rectOf, type Coupon, type PrintedVoid } from './printed-coupon.js'
import { printedRects, type PrintedCard } from './paper.js'
import { addRect, type BlurAt, type Layer } from './raster.js'
import { layerOver, type Scene } from './scene.js'
import { wideShares } from './wide-blur.js'

/** The planes a coupon is seen in, all in the card's coordinates. */
export interface CardMaps {
  card: PlaneMap
  cardThroughPlate: PlaneMap
  face: PlaneMap
}

/** What legs leave of the light, and how much darker the rim of the plate and an uninked groove look: by eye, not measured. */
const LEG_SHARE = 0.93
const RIM_MM = 0.15
const RIM_LOSS = 0.12
const BARE_GROOVE_LOSS = 0.03
/** Relative rise of the clear level across a coupon. */
const SHADING = 0.03
const FEATURE_SHADOW_MM = 1.2
const COUPON_SHADOW = { spreadMm: 2.5, dxMm: 0.8, dyMm: -0.8 }

/** Where a coupon lies on the card: laid into its printed slot, about its own centre. */
export function placeCoupon(slot: Slot, layout: CouponLayout, coupon: Coupon, card: PrintedCard): Placement {
  const half = { x: layout.sizeMm.x / 2, y: layout.sizeMm.y / 2 }
  const angle = ((coupon.rotationDeg + (coupon.state === 'turned' ? 180 : 0)) * Math.PI) / 180
  const flip = coupon.state === 'mirrored' ? -1 : 1
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  const matrix = [cos * flip, -sin, sin * flip, cos] as const
  const centre = [
    (slot.originMm[0] + half.x) * card.scaleX + coupon.offsetMm[0],
    (slot.originMm[1] + half.y) * card.scaleY + coupon.offsetMm[1],
  ] as const
  return {
    matrix,
    originMm: [
      centre[0] - matrix[0] * half.x - matrix[1] * half.y,
      centre[1] - matrix[2] * half.x - matrix[3] * half.y,
    ],
  }
}

/** Softly darkens the paper round the coupon. */
export function shadeCard(scene: Scene, maps: CardMaps, layout: CouponLayout, place: Placement, loss: number): void {
  const { spreadMm, dxMm, dyMm } = COUPON_SHADOW
  const [x, y] = place.originMm
  const map = placed(maps.card, { ...place, originMm: [x + dxMm, y + dyMm] })
  const plate = { x0: 0, y0: 0, x1: layout.sizeMm.x, y1: layout.sizeMm.y }
  const far = 4 * spreadMm
  const box = { x0: -far, y0: -far, x1: plate.x1 + far, y1: plate.y1 + far }
  const shade = wideShares(layerOver(scene, map, box, 2), map, [plate], spreadMm)
  const [red, green, blue] = scene.planes
  for (let row = 0; row < shade.height; row++) {
    let at = (shade.row0 + row) * scene.width + shade.column0
    for (let i = row * shade.width; i < (row + 1) * shade.width; i++, at++) {
      const keep = 1 - loss * (shade.data[i] as number)
      red[at] = (red[at] as number) * keep
      green[at] = (green[at] as number) * keep
      blue[at] = (blue[at] as number) * keep
    }
  }
}

/** Draws one coupon over the card. */
export function drawCoupon(
  scene: Scene,
  maps: CardMaps,
  place: Placement,
  layout: CouponLayout,
  coupon: Coupon,
  voids: readonly PrintedVoid[],
  card: PrintedCard,
  black: readonly RectMm[],
  blur: { card: BlurAt; face: BlurAt },
): void {
  const face = placed(maps.face, place)
  const plate = { x0: 0, y0: 0, x1: layout.sizeMm.x, y1: layout.sizeMm.y }
  const alpha = layerOver(scene, face, plate, 12)
  if (alpha.width === 0 || alpha.height === 0) return
  const share = (map: PlaneMap, rects: readonly RectMm[], blurAt: BlurAt, weight = 1, base?: Layer): Layer => {
    const layer = base ?? { ...alpha, data: new Float32Array(alpha.data.length) }
    for (const rect of rects) addRect(layer, map, rect, blurAt, weight)
    return layer
  }
  addRect(alpha, face, plate, blur.face)

  // Below: the print near the coupon, sharp and as scattered light blends it.
  const { originMm, matrix } = place
  const middle = [
    originMm[0] + matrix[0] * (plate.x1 / 2) + matrix[1] * (plate.y1 / 2),
    originMm[1] + matrix[2] * (plate.x1 / 2) + matrix[3] * (plate.y1 / 2),
  ] as const
  const near = printedRects(black, card).filter(
    ({ x0, y0, x1, y1 }) =>
      Math.hypot((x0 + x1) / 2 - middle[0], (y0 + y1) / 2 - middle[1]) < plate.x1 / 2 + 3 * coupon.hazeSpreadMm,
  )
  const below = share(maps.cardThroughPlate, near, blur.card)
  const blended = wideShares(alpha, maps.cardThroughPlate, near, coupon.hazeSpreadMm)

  // On the face.
  const grooves = voids.flatMap(({ rectMm }) => (rectMm ? [rectMm] : []))
  const roles = (...wanted: string[]): RectMm[] => layout.prisms.filter(({ role }) => wanted.includes(role)).map(rectOf)
  const pad = roles('ink-pad')
  const inked =
    coupon.inked === 'grooves'
      ? share(face, grooves, blur.face)
      : share(face, grooves, blur.face, -1, share(face, pad, blur.face))
  const shadow = wideShares(alpha, face, coupon.inked === 'grooves' ? grooves : pad, FEATURE_SHADOW_MM)
  const legs = share(face, roles('leg', 'caliper-leg'), blur.face)
  const rim = share(
    face,
    [
      { ...plate, x1: RIM_MM },
      { ...plate, x0: plate.x1 - RIM_MM },
      { ...plate, y1: RIM_MM },
      { ...plate, y0: plate.y1 - RIM_MM },
    ],
    blur.face,
  )

  const bare = coupon.state === 'not-inked'
  const { haze, dark, veil } = coupon
  const tint = coupon.absorbancePerMm.map((a) => 10 ** (-a * (layout.faceZMm - layout.plateZ0Mm)))
  const at = (layer: Layer, i: number): number => layer.data[i] as number
  for (let row = 0; row < alpha.height; row++) {
    let target = (alpha.row0 + row) * scene.width + alpha.column0
    for (let i = row * alpha.width; i < (row + 1) * alpha.width; i++, target++) {
      const cover = at(alpha, i)
      if (cover === 0) continue
      const ink = Math.min(1, Math.max(0, at(inked, i)))
      const print = (1 - haze) * Math.min(1, at(below, i)) + haze * at(blended, i)
      const light =
        coupon.transmission *
        (1 + SHADING * ((i - row * alpha.width) / alpha.width - 0.5)) *
        (1 - (bare ? 0 : coupon.featureShadow * at(shadow, i))) *
        (1 - (1 - LEG_SHARE) * at(legs, i)) *
        (1 - RIM_LOSS * Math.min(1, at(rim, i)))
      const clear = (card.paper + (card.ink - card.paper) * print) * light
      for (let channel = 0; channel < 3; channel++) {
        const plane = scene.planes[channel] as Float32Array
        const seen = clear * (tint[channel] as number) + veil
        const value = bare ? seen * (1 - BARE_GROOVE_LOSS * ink) : seen + (dark - seen) * ink
        plane[target] = (plane[target] as number) + cover * (value - (plane[target] as number))
      }
    }
  }
}
