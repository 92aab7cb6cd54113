import { mean } from 'simple-statistics'
import { conclude } from '../../analysis/conclude.js'
import { askewUm } from '../../analysis/coupon/growth-budget.js'
import { DEFAULT_OPTIONS } from '../../analysis/default-options.js'
import { measureLadder, type ReadLadder, type ReadRung } from '../../analysis/index.js'
import type { PhotoTruth } from '../support/drawn-photo.js'
import type { DrawnCase } from './cases.js'
import { drawnPhoto } from './drawn-photos.js'
import { meansAgainstBound } from './means.js'
import { rounded, type CouponRecord, type PhotoRecord } from './records.js'

/** Terms of the budget for what a drawn coupon has not: walls behind its edges, ink on a rim, pixels of a mask. */
const NOT_DRAWN = ['view off the axis', 'ink and rim of the grooves', "rounding to the mask's pixels"]

/**
 * Reads one photograph of the study, drawn if it is not kept, and compares.
 *
 * The coupons are flat, so that what their edges read is compared, before the reader's allowance for the walls of grooves
 * seen askew.
 */
export default async function readDrawn({ group, draw, photo, doseToSizeS }: DrawnCase): Promise<PhotoRecord> {
  const { file, truth } = await drawnPhoto(photo)
  const reading = await measureLadder(file, { keepProfiles: group === 'repeats' })
  const name = `${group} ${photo.seed}`
  if ('refusal' in reading)
    return { group, draw, name, warnings: [reading.refusal.code], refused: [reading.refusal.code], coupons: [] }
  const read = reading.rungs.filter((rung): rung is ReadRung => 'growthUm' in rung)
  return {
    group,
    draw,
    name,
    umPerPx: rounded(reading.card.umPerPx),
    warnings: reading.warnings.map(({ code }) => code),
    refused: reading.rungs.flatMap((rung) => ('refusal' in rung ? [rung.refusal.code] : [])),
    coupons: read.map((rung) => compare(rung, truth, photo.layout.coupon.grooveDepthMm)),
    ...(group === 'repeats'
      ? { means: read.flatMap((rung) => meansAgainstBound(rung, truth, photo)) }
      : doseToSize(reading, doseToSizeS)),
  }
}

const edgeGrowthUm = ({ gratings }: ReadRung) => mean(gratings.map((grating) => grating.growthUm.value))

function compare(rung: ReadRung, truth: PhotoTruth, grooveDepthMm: number): CouponRecord {
  const slot = truth.slots.find(({ slot }) => slot === rung.slot)
  if (!slot) throw new Error(`no truth of slot ${rung.slot}`)
  const [, cameraY, cameraZ] = truth.camera.positionMm
  const angleAlongDeg = (Math.atan((cameraY - slot.placement.originMm[1] - 7) / cameraZ) * 180) / Math.PI
  const hiddenUm = 2 * askewUm(angleAlongDeg, grooveDepthMm, rung.inking)
  const shown = rung.uncertaintyBudget.filter(({ source }) => !NOT_DRAWN.includes(source))
  const together = (terms: typeof shown) => Math.hypot(...terms.map((term) => term.standardUncertaintyUm))
  const closed = rung.printThroughUm
  return {
    slot: rung.slot,
    growthErrorUm: rounded(edgeGrowthUm(rung) - slot.growthUm),
    absoluteUm: rounded(rung.growthUm.standardUncertainty),
    withinUm: rounded(rung.growthUm.withinPhotoUncertainty),
    shownUm: rounded(together(shown)),
    shownWithinUm: rounded(together(shown.filter(({ shared }) => !shared))),
    ...(closed
      ? {
          printThroughErrorUm: rounded(closed.value - hiddenUm - slot.printThroughUm),
          printThroughUm: rounded(closed.standardUncertainty),
        }
      : {}),
  }
}

/** Dose-to-size as the reader concludes it from what the edges read. */
function doseToSize(reading: ReadLadder, truthS: number): Pick<PhotoRecord, 'doseToSize'> {
  const flat = reading.rungs.map((rung) =>
    'growthUm' in rung ? { ...rung, growthUm: { ...rung.growthUm, value: edgeGrowthUm(rung) } } : rung,
  )
  const { doseToSize } = conclude(reading.design, flat, DEFAULT_OPTIONS)
  return doseToSize ? { doseToSize: doseRecord(doseToSize, truthS) } : {}
}

/** A dose-to-size against its truth. */
export function doseRecord(
  { exposureS, intervalS: [low, high] }: { exposureS: number; intervalS: readonly [number, number] },
  truthS: number,
): NonNullable<PhotoRecord['doseToSize']> {
  return {
    errorPercent: rounded(100 * (exposureS / truthS - 1)),
    inside: low <= truthS && truthS <= high,
    halfWidthPercent: rounded((50 * (high - low)) / exposureS),
  }
}
