import type { LogWidth } from './fit-window.js'

/**
 * Known of the lobe before any photograph: half of the scattered light goes out at more than 2.5 degrees, or it would
 * not be haze by ASTM D1003, and at less than 30 degrees, which takes structure as small as the wavelength
 * (sin of the angle = wavelength / period). Anywhere between, on a logarithmic scale, is as likely: a rectangle of width
 * ln 12, deviation ln 12 / sqrt 12 (JCGM 100:2008, 4.3.7).
 *
 * @param distanceMm from the scattering window to the paper
 */
export const widthBeforehand = (distanceMm: number): LogWidth => ({
  mean: Math.log(distanceMm * Math.tan((Math.sqrt(2.5 * 30) * Math.PI) / 180)),
  standardUncertainty: Math.log(30 / 2.5) / Math.sqrt(12),
})

/** Coupons of one ladder share resin and finish; how far their lobes differ in width. A judgement, no source. */
const BETWEEN_COUPONS = 0.15
/**
 * The lobe's form is assumed, and what else dims and blurs a target is taken for a narrow one: widths fitted to path-traced
 * windows scatter and lean by about twice their own uncertainty.
 */
const MISTRUST = 2

/**
 * Width of the lobe for one coupon from those fitted to all coupons of a photograph.
 *
 * Only hazy windows tell their width. Each fit's own information is what it knows beyond `beforehand`; weighted by it,
 * and by how far coupons may differ, it is put together with `beforehand`.
 */
export function poolWidths(fitted: readonly LogWidth[], beforehand: LogWidth): LogWidth {
  let weight = 1 / beforehand.standardUncertainty ** 2
  let sum = weight * beforehand.mean
  for (const { mean, standardUncertainty } of fitted) {
    const own = 1 / standardUncertainty ** 2 - 1 / beforehand.standardUncertainty ** 2
    if (own <= 0) continue
    const at = (mean / standardUncertainty ** 2 - beforehand.mean / beforehand.standardUncertainty ** 2) / own
    const w = 1 / (MISTRUST ** 2 / own + BETWEEN_COUPONS ** 2)
    weight += w
    sum += w * at
  }
  return { mean: sum / weight, standardUncertainty: Math.hypot(1 / Math.sqrt(weight), BETWEEN_COUPONS) }
}
