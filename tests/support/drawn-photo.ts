import type { LadderLayout } from '../../analysis/layout/schema.js'
import { aimCamera, cardThroughPlate, placed, planeAt, projectMm, type Camera, type Placement } from './drawn/camera.js'
import { drawCoupon, placeCoupon, shadeCard, type CardMaps } from './drawn/coupon.js'
import { encodeFile } from './drawn/encode.js'
import {
  DEFAULT_CARD,
  DEFAULT_COUPON,
  DEFAULT_FILE,
  DEFAULT_OPTICS,
  DEFAULT_RESOLUTION,
  DEFAULT_SENSOR,
  type DrawPhotoOptions,
} from './drawn/options.js'
import { drawCard, type PrintedCard } from './drawn/paper.js'
import { isolatedWidthsUm, printVoids, type Coupon, type PrintedVoid } from './drawn/printed-coupon.js'
import { develop } from './drawn/processing.js'
import { addGlare, addShadow, blurOf, createScene, moveDuringExposure, paintDisc } from './drawn/scene.js'
import { expose } from './drawn/sensor.js'

export type { DrawPhotoOptions } from './drawn/options.js'
export { faultyPhotos } from './drawn/faulty-photos.js'
export { drawPictureWithoutCard } from './drawn/other-pictures.js'

/** One coupon as drawn: the options in full, and what became of each feature. */
export interface CouponTruth extends Coupon {
  slot: number
  /** Coupon to card: mm = origin + matrix (x, y), the matrix row by row. */
  placement: Placement
  voids: PrintedVoid[]
  isolatedWidthUm: Record<string, number>
  /** log10(T_red / T_blue) per mm. */
  yellownessPerMm: number
}

export interface PhotoTruth {
  camera: Camera
  /** In the middle of the frame, in the card's plane. */
  umPerPx: number
  /** Projected centres of the card's discs in the upright frame, in the layout's order. */
  fiducials: { column: number; row: number; covered: boolean }[]
  slots: CouponTruth[]
}

const SKIN = [0.55, 0.36, 0.27] as const

function couponTruths({ layout, seed = 1, coupon, slots }: DrawPhotoOptions, card: PrintedCard): CouponTruth[] {
  return layout.card.slots.map((slot): CouponTruth => {
    const own: Coupon = { ...DEFAULT_COUPON, ...coupon, ...slots?.[slot.slot] }
    const voids = printVoids(layout.coupon, own, 1000 * seed + slot.slot)
    return {
      ...own,
      slot: slot.slot,
      placement: placeCoupon(slot, layout.coupon, own, card),
      voids,
      isolatedWidthUm: isolatedWidthsUm(layout.coupon, voids),
      yellownessPerMm: own.absorbancePerMm[2] - own.absorbancePerMm[0],
    }
  })
}

/** The card's planes in its own coordinates, for a card lying as given on the table. */
function mapsOf(camera: Camera, layout: LadderLayout, lies: Placement): CardMaps {
  const plate = { topMm: layout.coupon.faceZMm, bottomMm: layout.coupon.plateZ0Mm }
  return {
    card: placed(planeAt(camera, 0), lies),
    cardThroughPlate: placed(cardThroughPlate(camera, plate), lies),
    face: placed(planeAt(camera, plate.topMm), lies),
  }
}

/** Microns of the card's plane a pixel of the frame's middle covers: the root of its area. */
function umPerPx(camera: Camera): number {
  const corner = new Float64Array(2)
  const at = (dc: number, dr: number): [number, number] => {
    planeAt(camera, 0).toPlane(camera.K[0][2] + dc, camera.K[1][2] + dr, corner)
    return [corner[0] as number, corner[1] as number]
  }
  const [o, a, b] = [at(0, 0), at(1, 0), at(0, 1)]
  return 1000 * Math.sqrt(Math.abs((a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])))
}

/**
 * Draws a photograph of a ladder's card with its coupons, and says what is in it.
 *
 * A simulation: ideal edges under a Gaussian blur, one camera model. The same options give the same bytes.
 *
 * @param options what differs from an ordinary photo; each option's default is beside it
 * @returns the file, and the truth in mm, um and pixels of the upright frame
 * @example const { file, truth } = await drawPhoto({ layout, coupon: { growthUm: 20 }, slots: { 3: { state: 'empty' } } })
 */
export async function drawPhoto(options: DrawPhotoOptions): Promise<{ file: Buffer; truth: PhotoTruth }> {
  const { layout, seed = 1, resolution = DEFAULT_RESOLUTION } = options
  const { second, ...print } = options.card ?? {}
  const card: PrintedCard = { ...DEFAULT_CARD, ...print }
  const optics = { ...DEFAULT_OPTICS, ...options.optics }
  const camera = aimCamera(options.camera ?? {}, resolution, layout.card.sizeMm)
  const blur = {
    card: blurOf(camera, optics.blurPx, optics.cornerBlurPx),
    face: blurOf(camera, options.optics?.faceBlurPx ?? optics.blurPx, optics.cornerBlurPx),
  }
  const coupons = couponTruths(options, card)
  const scene = createScene(resolution, card.table)

  const radians = ((second?.rotationDeg ?? 0) * Math.PI) / 180
  const [cos, sin] = [Math.cos(radians), Math.sin(radians)]
  const cards: Placement[] = [
    { originMm: [0, 0], matrix: [1, 0, 0, 1] },
    ...(second ? [{ originMm: second.offsetMm, matrix: [cos, -sin, sin, cos] as const }] : []),
  ]
  for (const lies of cards) {
    const maps = mapsOf(camera, layout, lies)
    drawCard(scene, maps.card, layout.card, card, blur.card)
    const present = coupons.filter(({ state }) => state !== 'empty')
    for (const { placement } of present) shadeCard(scene, maps, layout.coupon, placement, optics.couponShadow)
    for (const coupon of present)
      drawCoupon(scene, maps, coupon.placement, layout.coupon, coupon, coupon.voids, card, layout.card.black, blur)
  }
  const table = planeAt(camera, 0)
  const covered = new Set<number>(card.coveredFiducials)
  const fiducials = layout.card.fiducials.map(({ xMm, yMm }) => ({ xMm: xMm * card.scaleX, yMm: yMm * card.scaleY }))
  fiducials.forEach((place, i) => {
    if (covered.has(i)) paintDisc(scene, table, { ...place, radiusMm: 5 }, blur.card, SKIN)
  })
  if (optics.shadow) addShadow(scene, table, optics.shadow)
  for (const glare of optics.glare) addGlare(scene, table, glare)
  if (optics.motion) moveDuringExposure(scene, optics.motion)

  expose(scene, camera, optics, { ...DEFAULT_SENSOR, ...options.sensor }, seed)
  const rgb = develop(scene, options.processing ?? {})
  return {
    file: await encodeFile(rgb, resolution, { ...DEFAULT_FILE, ...options.file }),
    truth: {
      camera,
      umPerPx: umPerPx(camera),
      fiducials: fiducials.map(({ xMm, yMm }, i) => ({
        ...projectMm(camera, [xMm, yMm, 0]),
        covered: covered.has(i),
      })),
      slots: coupons,
    },
  }
}
