import { linearRegression, mean, median, sampleStandardDeviation } from 'simple-statistics'
import type { LightField } from '../image/light-field.js'
import type { ToPx } from '../coupon/plane-map.js'
import type { XGrating } from '../layout/schema.js'
import { refuse, type Outcome } from '../outcome.js'
import { edgeProfile, type EdgeProfile } from './edge-profile.js'
import { fitEdges, type EdgeFit } from './edge-fit.js'
import { searchGrooves } from './groove-search.js'

export interface GratingMeasurement {
  /** Mean width of a groove, um, in units of the nominal pitch: duty times pitch. */
  readonly grooveUm: { readonly value: number; readonly standardUncertainty: number }
  /** Lateral growth per side, um. */
  readonly growthUm: { readonly value: number; readonly standardUncertainty: number }
  /** Fitted pitch over nominal: what is left of scale. */
  readonly pitchRatio: number
  /** How far the grooves' centres lie to the right of nominal, mm. */
  readonly offsetMm: number
  readonly blurMm: number
  readonly blurPx: number
  /** (bright - dark) / (bright + dark). */
  readonly contrast: number
  /** Median light of the lands and of the grooves, paper is 1. */
  readonly landLight: number
  readonly grooveLight: number
  readonly lines: number
  readonly profile: EdgeProfile
  readonly fit: EdgeFit
}

/** Clear of the neighbouring grating and of the groove ends, mm. */
const SIDE_MM = 0.3
const END_MM = 0.35
/** A groove may narrow to a few blurs and widen to leave a few blurs of land. */
const LEAST_BAR_MM = 0.08
/** Registration knows the middle of the grooves to a quarter of a millimetre; under half a pitch no groove is taken for the next. */
const LARGEST_OFFSET_MM = 0.3
const LEAST_CONTRAST = 0.12

/**
 * Lateral growth from one grating of upright grooves.
 *
 * Both edges of every groove are fitted; the mean groove over the fitted pitch is the duty, and duty times nominal
 * pitch the width: the grating is its own ruler, so that camera height, print scale and shrinkage cancel.
 * Uncertainty is the scatter of the grooves about their mean; what shifts all alike is not in it.
 *
 * @param toPx coupon millimetres to pixels
 * @param blurMm expected blur
 * @param closedFromAboveMm how far the grooves' later-printed ends have closed, to keep clear of it
 * @returns the measurement, or a refusal: `no-contrast`, `closed`, `edges-not-found`
 */
export function measureGrating(
  light: LightField,
  toPx: ToPx,
  grating: XGrating,
  options: { readonly blurMm: number; readonly paperLight: number; readonly closedFromAboveMm: number },
): Outcome<GratingMeasurement> {
  const { pitchMm, grooveMm, grooves, x0Mm, y0Mm, y1Mm } = grating
  const upperEnd = y1Mm - Math.max(0, options.closedFromAboveMm) - END_MM
  if (upperEnd - y0Mm - END_MM < 0.5)
    return refuse('closed', 'Print lower exposures.', 'print-through leaves less than 0.5 mm of the grooves')
  const region = {
    x0: x0Mm - SIDE_MM,
    x1: x0Mm + (grooves - 1) * pitchMm + grooveMm + SIDE_MM,
    y0: y0Mm + END_MM,
    y1: upperEnd,
  }
  const profile = edgeProfile(light, toPx, region, 'x', options.paperLight)
  const nominal = Array.from({ length: grooves }, (_, i) => x0Mm + i * pitchMm).flatMap((x) => [x, x + grooveMm])
  const widening = (pitchMm - grooveMm - LEAST_BAR_MM) / 2
  const guess = searchGrooves(profile, nominal, {
    reachMm: LARGEST_OFFSET_MM,
    lower: [-widening, (grooveMm - LEAST_BAR_MM) / 2],
    upper: [0, 0],
    symmetric: true,
  })
  if (Math.abs(guess.contrast) < LEAST_CONTRAST)
    return refuse(
      'no-contrast',
      'Draw dark ink into the grooves, wipe the face and photograph it again.',
      `contrast ${guess.contrast.toFixed(3)}`,
    )
  // A loose hold on the blur: it keeps noisy edges from crossing and is far wider than what focus differs by.
  const fitted = fitEdges(profile, guess.edgesMm, { blurMm: options.blurMm, blurSpreadMm: 0.5 * options.blurMm })
  if (!fitted.ok) return fitted
  return { ok: true, value: summarise(grating, profile, fitted.value) }
}

function summarise(
  { pitchMm, grooveMm, grooves, x0Mm }: XGrating,
  profile: EdgeProfile,
  fit: EdgeFit,
): GratingMeasurement {
  const pairs = Array.from(
    { length: grooves },
    (_, i) => [fit.edgesMm[2 * i] ?? 0, fit.edgesMm[2 * i + 1] ?? 0] as const,
  )
  const centres = pairs.map(([left, right]) => (left + right) / 2)
  const widths = pairs.map(([left, right]) => right - left)
  const pitch = linearRegression(centres.map((centre, i) => [i, centre])).m
  const toNominal = (pitchMm / pitch) * 1000
  const grooveUm = {
    value: mean(widths) * toNominal,
    standardUncertainty: (sampleStandardDeviation(widths) / Math.sqrt(grooves)) * toNominal,
  }
  const landLight = median(fit.levels.filter((_, i) => i % 2 === 0))
  const grooveLight = median(fit.levels.filter((_, i) => i % 2 === 1))
  return {
    grooveUm,
    growthUm: { value: (grooveMm * 1000 - grooveUm.value) / 2, standardUncertainty: grooveUm.standardUncertainty / 2 },
    pitchRatio: pitch / pitchMm,
    offsetMm: mean(centres) - (x0Mm + grooveMm / 2 + ((grooves - 1) * pitchMm) / 2),
    blurMm: fit.blurMm,
    blurPx: fit.blurMm / profile.mmPerPx,
    contrast: Math.abs(landLight - grooveLight) / (landLight + grooveLight),
    landLight,
    grooveLight,
    lines: grooves,
    profile,
    fit,
  }
}
