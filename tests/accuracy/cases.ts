import { ladderLayout } from '../../analysis/index.js'
import type { CouponOptions, DrawPhotoOptions, ProcessingOptions } from '../support/drawn/options.js'
import { uniformDraws } from '../support/random.js'

/** What the camera did to the picture after its sensor. */
export const GROUPS = ['plain', 'tone', 'sharpened', 'smoothed'] as const
export type Group = (typeof GROUPS)[number]

/** Terms of the budget and limits of warnings were chosen on one draw of photographs; the other proves them on new ones. */
export const DRAWS = ['chosen-on', 'held-out'] as const
export type Draw = (typeof DRAWS)[number]
export const SEEDS: Readonly<Record<Draw, number>> = { 'chosen-on': 20250, 'held-out': 20261 }

/** One photograph to draw and read, with the truth of its ladder. */
export interface DrawnCase {
  readonly group: Group | 'repeats'
  readonly draw: Draw
  readonly photo: DrawPhotoOptions
  readonly doseToSizeS: number
}

/** 40 um a pixel on the coupons of a card that fills it. */
export const RESOLUTION = { width: 3600, height: 2700 }
const PHOTOS: Readonly<Record<Draw, Readonly<Record<Group, number>>>> = {
  'chosen-on': { plain: 20, tone: 16, sharpened: 24, smoothed: 20 },
  'held-out': { plain: 10, tone: 6, sharpened: 8, smoothed: 20 },
}
/** So that no noise is drawn twice. */
const FIRST_NOISE: Readonly<Record<Draw, number>> = { 'chosen-on': 1, 'held-out': 20001 }
const REPEATS = 8
const EXPOSURES_S = [1.6, 2, 2.5, 3.1, 3.9, 4.9]
const layout = ladderLayout({
  ladderId: 'ACCURACY',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: EXPOSURES_S,
})

type Between = (low: number, high: number) => number

/** All photographs of the study; the same seeds give the same ones. */
export function drawnCases(): DrawnCase[] {
  const random = DRAWS.flatMap((draw) => {
    const uniform = uniformDraws(SEEDS[draw])
    const between: Between = (low, high) => low + (high - low) * uniform()
    return GROUPS.flatMap((group) =>
      Array.from({ length: PHOTOS[draw][group] }, (_, i) => randomCase(draw, group, i, between)),
    )
  })
  return [...random, ...Array.from({ length: REPEATS }, (_, i) => repeat(i))]
}

function randomCase(draw: Draw, group: Group, i: number, between: Between): DrawnCase {
  const doseToSizeS = between(2.2, 3.6)
  const slope = between(20, 60)
  const depthUm = between(120, 320)
  const closedUm = between(250, 550)
  const lands = between(0, 1) < 0.25
  const slots = Object.fromEntries(
    EXPOSURES_S.map((exposureS, k): [number, CouponOptions] => [
      k + 1,
      {
        growthUm: slope * Math.log(exposureS / doseToSizeS),
        printThroughUm: Math.max(0, closedUm + depthUm * Math.log(exposureS / doseToSizeS)),
        offsetMm: [between(-0.4, 0.4), between(-0.4, 0.4)],
        rotationDeg: between(-1.5, 1.5),
        haze: between(0.02, 0.25),
        transmission: between(0.78, 0.88),
      },
    ]),
  )
  return {
    group,
    draw,
    doseToSizeS,
    photo: {
      layout,
      seed: FIRST_NOISE[draw] + 1000 * GROUPS.indexOf(group) + i,
      resolution: RESOLUTION,
      slots,
      coupon: { inked: lands ? 'lands' : 'grooves', dark: between(0.03, 0.07), veil: between(0, 0.03) },
      camera: {
        distanceMm: between(320, 600),
        tiltDeg: between(0, 15),
        azimuthDeg: between(0, 360),
        rollDeg: between(-6, 6),
        k1: between(-0.03, 0.03),
        fillShare: between(0.82, 0.9),
      },
      card: {
        paper: between(0.78, 0.92),
        ink: between(0.03, 0.08),
        inkGainUm: between(0, 25),
        scaleX: between(0.99, 1.01),
        scaleY: between(0.99, 1.01),
      },
      optics: {
        blurPx: between(0.6, 1.3),
        cornerBlurPx: between(0, 0.3),
        vignetting: between(0, 0.25),
        lightGradient: [between(-0.15, 0.15), between(-0.15, 0.15)],
      },
      sensor: {
        exposure: between(0.5, 0.85),
        fullWellE: between(1500, 8000),
        whiteBalance: [between(0.93, 1.07), 1, between(0.85, 1.07)],
        bayer: between(0, 1) < 0.4,
      },
      processing: processingOf(group, between),
      file: { quality: Math.round(between(85, 95)) },
    },
  }
}

function processingOf(group: Group, between: Between): ProcessingOptions {
  if (group === 'plain') return {}
  const tone = { gamma: between(0.9, 1.12), sCurve: between(0, 0.35) }
  const sharpen = { amount: between(0.3, 1), radiusPx: between(1, 1.5) }
  const denoise = { radiusPx: between(1, 2), range: between(0.05, 0.12) }
  if (group === 'tone') return tone
  if (group === 'sharpened') return { ...tone, sharpen }
  return between(0, 1) < 0.5 ? { ...tone, denoise } : { ...tone, denoise, sharpen }
}

/** Plain photographs that differ in noise and in where the edges fall among the pixels, for the scatter of a mean. */
function repeat(i: number): DrawnCase {
  const growthUm = { 1: -20, 2: -10, 3: 0, 4: 10, 5: 20, 6: 30 }
  return {
    group: 'repeats',
    draw: 'chosen-on',
    doseToSizeS: NaN,
    photo: {
      layout,
      seed: 9000 + i,
      resolution: RESOLUTION,
      slots: Object.fromEntries(Object.entries(growthUm).map(([slot, um]) => [slot, { growthUm: um }])),
      camera: { distanceMm: 400, rollDeg: 0.7 * i - 2.5, aimMm: [0.11 * i, -0.07 * i] },
      file: { quality: 90 },
    },
  }
}
