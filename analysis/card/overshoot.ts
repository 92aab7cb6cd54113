import { median } from 'simple-statistics'
import type { LightField } from '../image/light-field.js'
import type { CardLayout } from '../layout/schema.js'
import { edgeProfile, type EdgeProfile } from '../lines/edge-profile.js'
import type { ToPx } from '../coupon/plane-map.js'

/**
 * How far light overshoots beside a printed black edge, as a share of the step: the mark of sharpening.
 *
 * Median over the bare black patches of all slots, at their right side, where paper is free for several millimetres.
 * A lens alone gives none.
 *
 * @param card card millimetres at height 0 to pixels
 */
export function edgeOvershoot(light: LightField, layout: CardLayout, card: ToPx): number {
  return median(
    layout.slots.map(({ bareTarget: { blackMm } }) => {
      const region = { x0: blackMm.x1 - 0.9, x1: blackMm.x1 + 0.9, y0: blackMm.y0 + 0.5, y1: blackMm.y1 - 0.5 }
      const profile = edgeProfile(light, card, region, 'x', 1)
      const far = meanBetween(profile, blackMm.x1, 9, 20)
      const dark = meanBetween(profile, blackMm.x1, -20, -8)
      // A mask of 0.5 to 2 px radius lifts the paper most between one and five pixels from the edge.
      // Along the pixels' columns a window may hold none.
      const near = Math.max(
        ...[1, 1.5, 2, 2.5, 3, 3.5, 4]
          .map((px) => meanBetween(profile, blackMm.x1, px, px + 1))
          .filter(Number.isFinite),
      )
      return (near - far) / (far - dark)
    }),
  )
}

/** Mean light of a profile between two distances, pixels, from an edge. */
function meanBetween({ positionMm, light, count, mmPerPx }: EdgeProfile, edgeMm: number, from: number, to: number) {
  let [sum, n] = [0, 0]
  for (let i = 0; i < light.length; i++) {
    const px = (positionMm[i]! - edgeMm) / mmPerPx
    if (px < from || px > to) continue
    sum += light[i]! * count[i]!
    n += count[i]!
  }
  return n > 0 ? sum / n : NaN
}
