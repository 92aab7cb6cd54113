import { mean, median, sampleStandardDeviation } from 'simple-statistics'
import { viewAngleDeg, type CameraPose } from '../card/camera-pose.js'
import type { LightField } from '../image/light-field.js'
import type { Tone } from '../image/linear-light.js'
import type { RegionMm } from '../image/region.js'
import type { GreyPicture } from '../image/shrink.js'
import type { CouponLayout, IsolatedFeature, Slot } from '../layout/schema.js'
import type { Outcome } from '../outcome.js'
import type { MeasuredValue, PointPx, ReadRung } from '../result.js'
import { askewUm, growthBudget, printThroughUncertaintyUm, type PhotoQuality } from './growth-budget.js'
import { judgeBlur } from './judge-coupon.js'
import type { ToPx } from './plane-map.js'
import type { CouponMeasurement } from './read-coupon.js'

/** What reading one rung needs of the photograph. */
export interface PhotoContext {
  readonly light: LightField
  readonly shrunk: GreyPicture
  readonly tone: Tone
  readonly pose: CameraPose
  readonly coupon: CouponLayout
  readonly quality: PhotoQuality
  /** Edge of a pixel of the printer's mask. */
  readonly maskPixelUm: number
  readonly keepProfiles: boolean
}

type Summary = Omit<ReadRung, 'slot' | 'exposureS'>

/**
 * What the result says of a measured coupon.
 *
 * @returns its fields, or the refusal `out-of-focus`
 */
export function describeRung(
  measurement: CouponMeasurement,
  context: PhotoContext,
  slot: Slot,
  inking: ReadRung['inking'],
  umPerPx: number,
): Outcome<Summary> {
  const { toPx } = measurement
  const { coupon, pose } = context
  const read = measurement.gratings.flatMap(({ grating, measured }) =>
    measured.ok ? [{ grating, ...measured.value }] : [],
  )
  const blurPx = median(read.map((grating) => grating.blurPx))
  const blurMm = median(read.map((grating) => grating.blurMm))
  const blurred = judgeBlur(blurPx, blurMm)
  if (blurred) return { ok: false, refusal: blurred }
  const angle = viewAngleDeg(pose, slot.originMm[0] + 15, slot.originMm[1] + 7)
  const budget = growthBudget(
    read.map(({ growthUm }) => growthUm),
    {
      umPerPx,
      grooveDepthMm: coupon.grooveDepthMm,
      maskPixelUm: context.maskPixelUm,
      angleAcrossDeg: angle.x,
      inking,
      quality: context.quality,
    },
  )
  const gapUncertaintyUm = printThroughUncertaintyUm(umPerPx, angle.y, context.quality)
  const { window: w } = coupon
  return {
    ok: true,
    value: {
      outlinePx: corners(toPx, { x0: 0, y0: 0, x1: coupon.sizeMm.x, y1: coupon.sizeMm.y }),
      growthUm: budget.growthUm,
      ...printThrough(measurement, 2 * askewUm(angle.y, coupon.grooveDepthMm, inking), gapUncertaintyUm),
      smallestLineUm: narrowest(measurement, 'line'),
      smallestSpaceUm: narrowest(measurement, 'space'),
      inking,
      offAxisDeg: angle.total,
      rotationDeg: (measurement.place.rotationRad * 180) / Math.PI,
      umPerPx,
      uncertaintyBudget: budget.terms,
      gratings: read.map(({ grating, ...g }) => ({
        group: grating.group,
        pitchMm: grating.pitchMm,
        pitchRatio: g.pitchRatio,
        lines: g.lines,
        grooveUm: g.grooveUm,
        growthUm: g.growthUm,
        blurPx: g.blurPx,
        contrast: g.contrast,
        outlinePx: corners(toPx, {
          x0: grating.x0Mm,
          x1: grating.x0Mm + (grating.grooves - 1) * grating.pitchMm + grating.grooveMm,
          y0: grating.y0Mm,
          y1: grating.y1Mm,
        }),
        ...(context.keepProfiles
          ? {
              profile: {
                positionMm: Array.from(g.profile.positionMm),
                light: Array.from(g.profile.light),
                fitted: Array.from(g.fit.fitted),
              },
            }
          : {}),
      })),
      gaps: measurement.gaps.map(({ gap, measured }) => ({
        id: gap.id,
        nominalUm: gap.gapMm * 1000,
        state: measured.state,
        outlinePx: corners(toPx, { x0: gap.x0Mm, x1: gap.x1Mm, y0: gap.y0Mm, y1: gap.y1Mm }),
        ...(measured.state === 'open'
          ? {
              gapUm: {
                value: measured.gapMm * 1000,
                standardUncertainty: gapUncertaintyUm,
              },
            }
          : {}),
      })),
      isolated: measurement.isolated.flatMap(({ feature, survives }) =>
        survives === undefined
          ? []
          : [
              {
                id: feature.id,
                kind: feature.kind,
                nominalUm: feature.widthMm * 1000,
                survives,
                outlinePx: corners(toPx, { x0: feature.x0Mm, x1: feature.x1Mm, y0: feature.y0Mm, y1: feature.y1Mm }),
              },
            ],
      ),
      windowOutlinePx: corners(toPx, { x0: w.x0Mm, y0: w.y0Mm, x1: w.x1Mm, y1: w.y1Mm }),
      notes: [...measurement.refusals],
    },
  }
}

/** Mean closing of the open gaps and what a view askew hides of it; their disagreement enters the uncertainty. */
function printThrough(
  { printThroughUm }: CouponMeasurement,
  hiddenUm: number,
  typeBUm: number,
): { printThroughUm?: MeasuredValue } {
  const n = printThroughUm.length
  if (n === 0) return {}
  const scatter = n > 1 ? sampleStandardDeviation(printThroughUm) / Math.sqrt(n) : 0
  return {
    printThroughUm: {
      value: (n > 2 ? median(printThroughUm) : mean(printThroughUm)) + hiddenUm,
      standardUncertainty: Math.hypot(scatter, typeBUm),
    },
  }
}

/** Narrowest feature that survives while every wider one does too; a lone narrow survivor is no promise. */
function narrowest({ isolated }: CouponMeasurement, kind: IsolatedFeature['kind']): number | null {
  const ordered = isolated
    .filter(({ feature, survives }) => feature.kind === kind && survives !== undefined)
    .sort((a, b) => b.feature.widthMm - a.feature.widthMm)
  const fails = ordered.findIndex(({ survives }) => !survives)
  const last = ordered[fails < 0 ? ordered.length - 1 : fails - 1]
  return last ? Math.round(last.feature.widthMm * 1000) : null
}

/** Corners of a rectangle in pixels, for outlines. */
export const corners = (toPx: ToPx, { x0, y0, x1, y1 }: RegionMm): PointPx[] =>
  (
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ] as const
  ).map(([x, y]) => [...toPx(x, y)])
