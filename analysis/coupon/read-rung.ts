import { mean, median, sampleStandardDeviation } from 'simple-statistics'
import { viewAngleDeg, type CameraPose } from '../card/camera-pose.js'
import { clippedShare } from './clipped-share.js'
import { cardPlane, couponPlane, type ToPx } from './plane-map.js'
import type { LightField } from '../image/light-field.js'
import type { Tone } from '../image/linear-light.js'
import type { RegionMm } from '../image/region.js'
import type { GreyPicture } from '../image/shrink.js'
import type { CouponLayout, IsolatedFeature, Slot } from '../layout/schema.js'
import { refuse, type Outcome, type Refusal } from '../outcome.js'
import type { MeasuredValue, PointPx, ReadRung, RefusedRung, Rung } from '../result.js'
import { patchLight } from '../window/bar-contrast.js'
import { readWindow } from '../window/read-window.js'
import { growthBudget, printThroughUncertaintyUm, type PhotoQuality } from './growth-budget.js'
import { measureCoupon, type CouponMeasurement } from './read-coupon.js'
import { registerCoupon, type Registration } from './register.js'

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

/** Below this contrast of grooves and face, share of paper light, nothing inked lies in the slot. */
const LEAST_CONTRAST = 0.35
/** A lamp mirrored over more of the features than this spoils whole lines. */
const LARGEST_CLIPPED = 0.01
/** Another way of laying must explain the picture clearly worse. */
const LARGEST_RIVAL = 0.8
/** A coupon takes at least this share of the light of the paper below it. */
const CLEAR_SLOT = 0.94
const LARGEST_BLUR_PX = 3
const LARGEST_BLUR_MM = 0.13

const ADVICE: Readonly<
  Record<Exclude<Registration['orientation'], 'upright'>, readonly [code: string, advice: string]>
> = {
  turned: ['coupon-turned', 'Turn this coupon by half a turn, so that its key lies at the thick bar.'],
  mirrored: [
    'coupon-mirrored',
    'This coupon was printed mirrored. Switch mirroring off in the slicer and print it again.',
  ],
  'turned-mirrored': [
    'coupon-mirrored',
    'This coupon was printed mirrored and lies turned. Switch mirroring off in the slicer and print it again.',
  ],
}

/** Reads the coupon in one slot: every measurement it yields, or the named reason why it yields none. */
export function readRung(context: PhotoContext, slot: Slot): Rung {
  const { light, pose, coupon } = context
  // The coupons lie on their legs on the paper; what paper adds to their height is below what is seen.
  const face = cardPlane(pose, coupon.faceZMm)
  const common = { slot: slot.slot, exposureS: slot.exposureS }
  const paperLight = patchLight(light, cardPlane(pose, 0), slot.bareTarget.whiteMm)
  const outline: RegionMm = { x0: 0, y0: 0, x1: coupon.sizeMm.x, y1: coupon.sizeMm.y }
  const inSlot: ToPx = (x, y) => face(slot.originMm[0] + x, slot.originMm[1] + y)
  const refused = (refusal: Refusal, toPx: ToPx = inSlot): RefusedRung => ({
    ...common,
    outlinePx: corners(toPx, outline),
    refusal,
  })

  const glare = clippedShare(context.shrunk, inSlot, featureArea(coupon))
  if (glare > LARGEST_CLIPPED)
    return refused(
      refuse(
        'glare',
        'A lamp is mirrored in this coupon: move the light to the side, or stand elsewhere.',
        `${(100 * glare).toFixed(0)} % of the features are clipped, at most ${100 * LARGEST_CLIPPED} %`,
      ).refusal,
    )

  const registration = registerCoupon(light, context.shrunk, face, slot, coupon, {
    aspect: pose.aspect,
    paperLight,
  })
  const middle = [coupon.sizeMm.x / 2, coupon.sizeMm.y / 2] as const
  const refusal = judge(registration, context, slot, paperLight)
  if (refusal)
    return refused(
      refusal,
      registration.contrast < LEAST_CONTRAST ? inSlot : couponPlane(face, registration.place, middle, pose.aspect),
    )

  const umPerPx = localUmPerPx(face, slot, coupon)
  const measured = measureCoupon(light, face, coupon, registration.place, {
    aspect: pose.aspect,
    blurMm: 0.0012 * umPerPx,
    paperLight,
  })
  if (!measured.ok) return refused(measured.refusal, couponPlane(face, registration.place, middle, pose.aspect))
  const reading = summarise(measured.value, context, slot, registration, umPerPx)
  return reading.ok ? { ...common, ...reading.value } : refused(reading.refusal, measured.value.toPx)
}

/** What holds all inked features of the face, window and legs left out. */
const featureArea = ({ gratings, gaps, window }: CouponLayout): RegionMm => ({
  x0: Math.min(...gratings.map(({ x0Mm }) => x0Mm)),
  x1: window.x0Mm,
  y0: Math.min(...gaps.map(({ y0Mm }) => y0Mm)),
  y1: Math.max(...gratings.map(({ y1Mm }) => y1Mm)),
})

/** Why a registered coupon cannot be measured, if so. */
function judge(
  { contrast, rival, orientation }: Registration,
  context: PhotoContext,
  slot: Slot,
  paperLight: number,
): Refusal | undefined {
  if (contrast < LEAST_CONTRAST) {
    const { pose, light } = context
    const through = patchLight(light, cardPlane(pose, 1), slot.windowTarget.whiteMm) / paperLight
    const detail = `contrast of the features ${contrast.toFixed(2)}, at least ${LEAST_CONTRAST}`
    return through > CLEAR_SLOT
      ? refuse('slot-empty', 'Lay the coupon of this rung in its slot, or go on without it.', detail).refusal
      : refuse(
          'not-inked',
          'Ink this coupon: draw a thin dark wash into its grooves, let it dry, wipe the face clean.',
          detail,
        ).refusal
  }
  if (rival > LARGEST_RIVAL * contrast)
    return refuse(
      'coupon-unclear',
      'Clean and ink this coupon again and lay it straight in its slot.',
      `two ways of laying it explain the picture about as well: ${contrast.toFixed(2)} and ${rival.toFixed(2)}`,
    ).refusal
  if (orientation !== 'upright') return refuse(...ADVICE[orientation]).refusal
  return undefined
}

type Summary = Omit<ReadRung, 'slot' | 'exposureS'>

function summarise(
  measurement: CouponMeasurement,
  context: PhotoContext,
  slot: Slot,
  registration: Registration,
  umPerPx: number,
): Outcome<Summary> {
  const { toPx } = measurement
  const { coupon, pose } = context
  const read = measurement.gratings.flatMap(({ grating, measured }) =>
    measured.ok ? [{ grating, ...measured.value }] : [],
  )
  const blurPx = median(read.map((grating) => grating.blurPx))
  const blurMm = median(read.map((grating) => grating.blurMm))
  if (blurPx > LARGEST_BLUR_PX || blurMm > LARGEST_BLUR_MM)
    return refuse(
      'out-of-focus',
      'Hold still and focus on the coupons; more light helps.',
      `edges blurred by ${blurPx.toFixed(1)} px (${(1000 * blurMm).toFixed(0)} um), at most ${LARGEST_BLUR_PX} px and ${1000 * LARGEST_BLUR_MM} um`,
    )
  const angle = viewAngleDeg(pose, slot.originMm[0] + 15, slot.originMm[1] + 7)
  const budget = growthBudget(
    read.map(({ growthUm }) => growthUm),
    {
      umPerPx,
      maskPixelUm: context.maskPixelUm,
      angleAcrossDeg: angle.x,
      inking: registration.inking,
      quality: context.quality,
    },
  )
  const window = readWindow(context.light, context.tone, pose, slot, coupon)
  const { window: w } = coupon
  return {
    ok: true,
    value: {
      outlinePx: corners(toPx, { x0: 0, y0: 0, x1: coupon.sizeMm.x, y1: coupon.sizeMm.y }),
      growthUm: budget.growthUm,
      ...printThrough(measurement, umPerPx, angle.y),
      smallestLineUm: narrowest(measurement, 'line'),
      smallestSpaceUm: narrowest(measurement, 'space'),
      ...(window.ok ? { haze: window.value.haze, yellownessPerMm: window.value.yellownessPerMm } : {}),
      inking: registration.inking,
      offAxisDeg: angle.total,
      rotationDeg: (measurement.place.rotationRad * 180) / Math.PI,
      umPerPx,
      uncertaintyBudget: budget.terms,
      gratings: read.map(({ grating, ...g }) => ({
        group: grating.group,
        pitchMm: grating.pitchMm,
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
                standardUncertainty: printThroughUncertaintyUm(umPerPx, angle.y),
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
      notes: [...measurement.refusals, ...(window.ok ? [] : [window.refusal])],
    },
  }
}

/** Mean closing of the open gaps; their disagreement enters the uncertainty. */
function printThrough(
  { printThroughUm }: CouponMeasurement,
  umPerPx: number,
  angleAlongDeg: number,
): { printThroughUm?: MeasuredValue } {
  const n = printThroughUm.length
  if (n === 0) return {}
  const scatter = n > 1 ? sampleStandardDeviation(printThroughUm) / Math.sqrt(n) : 0
  return {
    printThroughUm: {
      value: n > 2 ? median(printThroughUm) : mean(printThroughUm),
      standardUncertainty: Math.hypot(scatter, printThroughUncertaintyUm(umPerPx, angleAlongDeg)),
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

function localUmPerPx(face: ToPx, slot: Slot, { sizeMm }: CouponLayout): number {
  const [x, y] = [slot.originMm[0] + sizeMm.x / 2, slot.originMm[1] + sizeMm.y / 2]
  const [o, a, b] = [face(x, y), face(x + 1, y), face(x, y + 1)]
  return 1000 / Math.sqrt(Math.abs((a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])))
}

const corners = (toPx: ToPx, { x0, y0, x1, y1 }: RegionMm): PointPx[] =>
  (
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ] as const
  ).map(([x, y]) => [...toPx(x, y)])
