import { median } from 'simple-statistics'
import { noiseCorrelation } from './card/noise-correlation.js'
import { discHalo } from './card/halo.js'
import { locateDiscCentre } from './card/disc-centre.js'
import { cardWarnings, describeCard } from './card/describe-card.js'
import type { CameraPose } from './card/camera-pose.js'
import { focalFromCoupons } from './card/focal-from-coupons.js'
import { edgeOvershoot } from './card/overshoot.js'
import { findCode } from './card/find-code.js'
import { loadCodeReader } from './card/read-codes.js'
import { findDiscs } from './card/find-discs.js'
import { fitProcessing, judgeProcessing, passed, warningsOf } from './card/processing.js'
import { solvePose } from './card/solve-pose.js'
import { toneCurve } from './card/tone-curve.js'
import { anchorGrowth } from './coupon/anchor-growth.js'
import { cardPlane, umPerPxAt } from './coupon/plane-map.js'
import { readRung } from './coupon/read-rung.js'
import { conclude } from './conclude.js'
import { DEFAULT_OPTIONS } from './default-options.js'
import { temperatureWarnings } from './dose/temperature.js'
import { decodePhoto } from './image/decode.js'
import { lumaTable, SRGB_TONE } from './image/linear-light.js'
import { loadOpenCv } from './image/opencv.js'
import { shrinkGreen } from './image/shrink.js'
import { ladderLayout } from './layout/ladder-layout.js'
import { refuse, type Refusal } from './outcome.js'
import type { LadderReading, MeasureOptions, Rung } from './result.js'
import { addWindows } from './window/add-windows.js'
import { patchLight } from './window/patch-light.js'

/** The steps of reading a photograph, in order; `share` of the whole work done when the step begins. */
export interface Stage {
  readonly stage: 'decode' | 'find-card' | 'tone' | 'coupons' | 'fit'
  readonly share: number
}

const SHRINK = 4
/** Two pixels of blur on a 0.39 mm groove leave no plateau beyond this. */
const COARSEST_UM_PER_PX = 75
/** Light of white paper, share of full scale: at 0.97 and more the sensor or the tone curve has clipped it. */
const CLIPPED_LIGHT = 0.97
const DARKEST_LIGHT = 0.06

/**
 * Reads one photograph of one ladder on its card.
 *
 * @param photo the bytes of a JPEG, PNG, WebP, TIFF, AVIF or HEIC file
 * @param options see `MeasureOptions`; what is left out takes the default stated there
 * @param onStage told when each step begins
 * @returns the reading; a photograph that cannot be read is a result with `refusal`, never an exception
 */
export async function measureLadder(
  photo: Uint8Array,
  options: Partial<MeasureOptions> = {},
  onStage: (stage: Stage) => void = () => undefined,
): Promise<LadderReading> {
  const settings = { ...DEFAULT_OPTIONS, ...options }
  onStage({ stage: 'decode', share: 0 })
  const decoded = await decodePhoto(photo, () => {
    loadOpenCv()
    loadCodeReader()
  })
  if (!decoded.ok) return refused(decoded.refusal)
  const picture = decoded.value

  onStage({ stage: 'find-card', share: 0.35 })
  const shrunk = shrinkGreen(picture, SHRINK)
  const code = await findCode(picture, shrunk)
  if (!code.ok) return refused(code.refusal)
  const { design } = code.value
  const layout = ladderLayout(design)
  const rough = findDiscs(shrunk, code.value, layout.card)
  if (!rough.ok) return refused(rough.refusal)
  const asEncoded = { photo: picture, table: lumaTable(SRGB_TONE) }
  const centres = rough.value.discs.flatMap((disc) => locateDiscCentre(asEncoded, disc) ?? [])
  let solved = solvePose(centres, layout.card, rough.value.homography, picture)
  if (!solved.ok) return refused(solved.refusal)
  const paper = cardPlane(solved.value.pose, 0)
  const umPerPx = umPerPxAt(paper, 0, 0)
  const white = median(layout.card.slots.map(({ bareTarget }) => patchLight(asEncoded, paper, bareTarget.whiteMm)))
  const unfit = judgePhoto(umPerPx, white)
  if (unfit) return refused(unfit)

  onStage({ stage: 'tone', share: 0.5 })
  const overshoot = edgeOvershoot(asEncoded, layout.card, paper)
  const { fitted, sharpening, unseen, tonePx, oddEdges } = fitProcessing(picture, layout.card, paper, overshoot)
  const gates = judgeProcessing({
    overshoot,
    maskAmount: sharpening?.amount ?? 0,
    toneMisfit: fitted.residual,
    noiseCorrelation: noiseCorrelation(picture, layout.card, paper),
    oddEdges,
    halo: discHalo(asEncoded, rough.value.discs),
  })
  const toneKnown = passed(gates, 'tone-misfit')
  const smoothed = !passed(gates, 'noise-correlation') || !passed(gates, 'odd-edges')
  const quality = {
    overshoot,
    ...(unseen ? { mask: unseen } : {}),
    ...(toneKnown ? { tonePx } : {}),
    smoothed,
    locallyToned: !passed(gates, 'halo'),
  }
  const tone = toneKnown ? fitted.tone : SRGB_TONE
  const context = {
    light: { photo: picture, table: lumaTable(tone), ...(sharpening ? { sharpening } : {}) },
    shrunk,
    tone,
    coupon: layout.coupon,
    maskPixelUm: design.pixelPitchUm,
    quality,
    keepProfiles: settings.keepProfiles,
  }
  const readAll = (pose: CameraPose) =>
    layout.card.slots.map((slot, i): Rung => {
      onStage({ stage: 'coupons', share: 0.55 + (0.4 * i) / layout.card.slots.length })
      return readRung({ ...context, pose }, slot)
    })
  let rungs = readAll(solved.value.pose)
  const focalPx = focalFromCoupons(solved.value, rungs, layout.coupon.faceZMm)
  if (focalPx !== undefined) {
    const again = solvePose(centres, layout.card, rough.value.homography, { ...picture, focalPx })
    if (again.ok) {
      solved = again
      rungs = readAll(again.value.pose)
    }
  }
  const finished = gates.some((gate) => !gate.passed)
  const windows = { ...context, pose: solved.value.pose, inkGainUm: fitted.inkGainUm, finished, smoothed }
  rungs = addWindows(rungs, layout.card.slots, windows, settings)

  onStage({ stage: 'fit', share: 0.95 })
  const anchored = anchorGrowth(rungs, settings, layout.coupon.caliperMm)
  return {
    schema: 'stepglass-reading-1',
    design,
    photo: { widthPx: picture.width, heightPx: picture.height },
    card: describeCard(solved.value, layout.card, umPerPx),
    tone: {
      ...tone,
      inkGainUm: fitted.inkGainUm,
      ...(Number.isFinite(fitted.residual) ? { residual: fitted.residual } : {}),
      ...(sharpening ? { sharpening: { amount: sharpening.amount, radiusPx: sharpening.radiusPx } } : {}),
      patches: fitted.patches,
      curve: toneCurve(fitted.tone, fitted.paperLight),
    },
    gates,
    rungs: [...anchored.rungs],
    ...(anchored.caliper ? { caliper: anchored.caliper } : {}),
    ...conclude(design, anchored.rungs, settings, anchored.caliper?.tabs.length),
    ...(settings.resinTemperatureC === undefined ? {} : { resinTemperatureC: settings.resinTemperatureC }),
    warnings: [
      ...cardWarnings(solved.value),
      ...warningsOf(gates, sharpening !== undefined),
      ...anchored.warnings,
      ...(settings.resinTemperatureC === undefined ? [] : temperatureWarnings([settings.resinTemperatureC])),
    ],
  }
}

const refused = (refusal: Refusal): LadderReading => ({ schema: 'stepglass-reading-1', refusal })

/** Why the whole photograph cannot be measured, if so. */
function judgePhoto(umPerPx: number, white: number): Refusal | undefined {
  if (umPerPx > COARSEST_UM_PER_PX)
    return refuse(
      'too-few-pixels-per-mm',
      'Fill the frame with the card, or photograph at full resolution.',
      `a pixel covers ${umPerPx.toFixed(0)} um of the card, at most ${COARSEST_UM_PER_PX}`,
    ).refusal
  if (white > CLIPPED_LIGHT)
    return refuse(
      'overexposed',
      'The paper is burnt out: make the picture darker (exposure -1) and photograph it again.',
      `white paper at ${(100 * white).toFixed(0)} % of full scale, at most ${100 * CLIPPED_LIGHT} %`,
    ).refusal
  if (white < DARKEST_LIGHT)
    return refuse(
      'too-dark',
      'Bring more light and photograph it again.',
      `white paper at ${(100 * white).toFixed(0)} % of full scale, at least ${100 * DARKEST_LIGHT} %`,
    ).refusal
  return undefined
}
