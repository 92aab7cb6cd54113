import type { LadderLayout } from '../../../analysis/layout/schema.js'
import type { DrawPhotoOptions } from './options.js'

/** What goes wrong with photographs, each as options to draw it; sizes are for the default resolution. */
export const faultyPhotos = {
  /** The aim is off: part of the card lies outside the frame. */
  cropped: (layout: LadderLayout): DrawPhotoOptions => ({
    layout,
    camera: { aimMm: [-layout.card.sizeMm.x * 0.3, 0] },
  }),
  /** Too near: only the middle of the card is in the frame. */
  tooNear: (layout: LadderLayout): DrawPhotoOptions => ({ layout, camera: { fillShare: 1.5 } }),
  /** The same card twice, side by side, both whole. */
  twoCards: (layout: LadderLayout): DrawPhotoOptions => ({
    layout,
    camera: { fillShare: 0.46, aimMm: [layout.card.sizeMm.x * 0.53, 0] },
    card: { second: { offsetMm: [layout.card.sizeMm.x * 1.06, 2], rotationDeg: 3 } },
  }),
  outOfFocus: (layout: LadderLayout): DrawPhotoOptions => ({ layout, optics: { blurPx: 6 } }),
  moved: (layout: LadderLayout): DrawPhotoOptions => ({ layout, optics: { motion: { lengthPx: 10, angleDeg: 25 } } }),
  /** A lamp mirrored in the gratings of one slot's coupon: clipped over some 10 mm. */
  glare: (layout: LadderLayout, slot = 1): DrawPhotoOptions => {
    const [x = 0, y = 0] = layout.card.slots.find((s) => s.slot === slot)?.originMm ?? []
    return { layout, optics: { glare: [{ xMm: x + 11, yMm: y + 8, radiusMm: 4, strength: 3 }] } }
  },
  coveredDiscs: (layout: LadderLayout, indices: readonly number[] = [0, 7]): DrawPhotoOptions => ({
    layout,
    card: { coveredFiducials: indices },
  }),
  /** Every second slot is empty. */
  halfMissing: (layout: LadderLayout): DrawPhotoOptions => ({
    layout,
    slots: Object.fromEntries(
      layout.card.slots.filter(({ slot }) => slot % 2 === 0).map(({ slot }) => [slot, { state: 'empty' }]),
    ),
  }),
  /** The card was printed, nothing lies on it. */
  noCoupons: (layout: LadderLayout): DrawPhotoOptions => ({ layout, coupon: { state: 'empty' } }),
  overexposed: (layout: LadderLayout): DrawPhotoOptions => ({ layout, sensor: { exposure: 1.6 } }),
} satisfies Record<string, (layout: LadderLayout) => DrawPhotoOptions>
