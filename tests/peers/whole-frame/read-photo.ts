import { linearRegression } from 'simple-statistics'
import sharp from 'sharp'
import type { PeerReading, PeerRung } from '../peer-reading.js'
import { drawTemplates, findCoupon } from './coupon.js'
import { findStanding, printThroughUm, readGaps, readGratings } from './features.js'
import { cv, type Own } from './opencv.js'
import { rectifyCard } from './rectified-card.js'
import { readWindow } from './window.js'

/**
 * Reads a ladder's photograph by the usual whole-frame steps of a computer-vision library: a peer that the analysis is
 * timed and checked against.
 *
 * Grey frame, adaptive threshold, contours, homography, the whole card rectified at the photograph's scale, coupons found
 * by template matching, widths at half level of mean profiles in linear light, windows by levels and amplitudes.
 *
 * Left out, though the analysis does it: lens distortion, the camera's tone curve and sharpening, ink on the lands, turned
 * and mirrored coupons, the caliper, the width of the scatter (taken as known), uncertainty, quality gates, most refusals,
 * the kind of a defect, survival models, and of the fit to a suggestion all but the dose-to-size and the slope of
 * print-through.
 */
export async function readWholeFrame(photo: Uint8Array): Promise<PeerReading> {
  const mats: { delete(): void }[] = []
  const own: Own = (mat) => {
    mats.push(mat)
    return mat
  }
  try {
    const { data, info } = await sharp(photo).autoOrient().removeAlpha().raw().toBuffer({ resolveWithObject: true })
    const rgb = own(new cv.Mat(info.height, info.width, cv.CV_8UC3))
    rgb.data.set(data)
    const card = await rectifyCard(rgb, own)
    const { slots } = card.layout.card
    const templates = drawTemplates(card.layout.coupon, own)
    const rungs = slots.map((slot): PeerRung | null => {
      const coupon = findCoupon(card, slot, templates, own)
      const gratings = readGratings(coupon, card.layout.coupon)
      if (!gratings) return null
      const gapsUm = readGaps(coupon, card.layout.coupon, gratings)
      const sunkUm = printThroughUm(card.layout.coupon, gapsUm)
      return {
        growthUm: gratings.growthUm,
        printThroughUm: sunkUm,
        gapsUm,
        survives: findStanding(coupon, card.layout.coupon, gratings, sunkUm),
        ...readWindow(card, slot, own),
      }
    })
    const trend = (of: 'growthUm' | 'printThroughUm') =>
      linearRegression(rungs.flatMap((rung, i) => (rung ? [[Math.log(slots[i]!.exposureS), rung[of]]] : [])))
    const growth = trend('growthUm')
    return { rungs, doseToSizeS: Math.exp(-growth.b / growth.m), penetrationDepthUm: trend('printThroughUm').m }
  } finally {
    for (const mat of mats) mat.delete()
  }
}
