import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { CouponLayout, LadderDesign } from '../../analysis/layout/schema.js'
import type { PointPx, ReadLadder, ReadRung, Rung, WindowDetail } from '../../analysis/result.js'

// Invented numbers in the shape of a reading, for tests of what is shown. Nothing here was measured.

export const design: LadderDesign = {
  ladderId: 'K7Q2XN',
  layerHeightUm: 50,
  pixelPitchUm: 34,
  exposuresS: [1.4, 1.7, 2.1, 2.6, 3.2, 4],
}
export const layout = ladderLayout(design)

export const PX_PER_MM = 12
const MARGIN_MM = 5
export const photoPx = {
  widthPx: Math.round((layout.card.sizeMm.x + 2 * MARGIN_MM) * PX_PER_MM),
  heightPx: Math.round((layout.card.sizeMm.y + 2 * MARGIN_MM) * PX_PER_MM),
}

/** Pixel of a place on the card, for a camera straight above it. */
export const toPx = (xMm: number, yMm: number): PointPx => [
  Math.round((xMm + layout.card.sizeMm.x / 2 + MARGIN_MM) * PX_PER_MM * 10) / 10,
  Math.round((layout.card.sizeMm.y / 2 - yMm + MARGIN_MM) * PX_PER_MM * 10) / 10,
]

interface BoxMm {
  readonly x0Mm: number
  readonly y0Mm: number
  readonly x1Mm: number
  readonly y1Mm: number
}

/** Outline of a box given in the coupon's millimetres, for the coupon in this slot. */
function outlinePx(slot: number, { x0Mm, y0Mm, x1Mm, y1Mm }: BoxMm): PointPx[] {
  const [x, y] = layout.card.slots[slot - 1]?.originMm ?? [0, 0]
  return [toPx(x + x0Mm, y + y0Mm), toPx(x + x1Mm, y + y0Mm), toPx(x + x1Mm, y + y1Mm), toPx(x + x0Mm, y + y1Mm)]
}

const couponBox = ({ sizeMm }: CouponLayout): BoxMm => ({ x0Mm: 0, y0Mm: 0, x1Mm: sizeMm.x, y1Mm: sizeMm.y })

const growthAt = (exposureS: number) => 52 * Math.log(exposureS / 2.35)

function profile(growthUm: number) {
  const positionMm = Array.from({ length: 61 }, (_, i) => -0.4 + i * (0.8 / 60))
  const halfMm = 0.2 - growthUm / 1000
  const fitted = positionMm.map((x) => 0.9 - 0.8 / (1 + Math.exp((Math.abs(x) - halfMm) / 0.018)))
  const light = fitted.map((value, i) => value + 0.02 * Math.sin(i * 2.4))
  return { positionMm, light, fitted }
}

const value = (value: number, standardUncertainty: number) => ({ value, standardUncertainty })

/** What a window shows. */
export const windowDetail: WindowDetail = {
  surface: value(0.23, 0.02),
  clarity: [
    { direction: 'along-build', pitchMm: 0.423, angleDeg: 1.9, kept: value(0.88, 0.01) },
    { direction: 'along-build', pitchMm: 1.016, angleDeg: 4.5, kept: value(0.94, 0.01) },
    { direction: 'across-build', pitchMm: 2.032, angleDeg: 9, kept: value(0.75, 0.02) },
  ],
  scatterAngleDeg: value(12, 3),
  transmission: value(0.88, 0.01),
  mirroredLight: value(0.06, 0.005),
  yellowness: {
    thicknessMm: 3,
    deltaB: value(3.1, 0.4),
    deltaYellownessIndex: value(5.6, 0.7),
    deltaE2000: value(2.4, 0.3),
  },
  defects: [
    {
      kind: 'bubble',
      areaMm2: 0.31,
      depth: -0.24,
      outlinePx: [toPx(-28, 12), toPx(-27.6, 12), toPx(-27.6, 12.4), toPx(-28, 12.4)],
    },
  ],
  defectShare: 0.005,
  examinedMm2: 62.6,
  score: { ...value(84.8, 1.4), formula: 'made up' },
}

function readRung(slot: number, exposureS: number, scatterUm: number): ReadRung {
  const growthUm = growthAt(exposureS) + scatterUm
  const throughUm = 310 + 140 * Math.log(exposureS)
  const standsUm = growthUm > -15 ? 150 : 200
  const opensUm = growthUm > 15 ? 300 : 200
  const { coupon } = layout
  return {
    slot,
    exposureS,
    outlinePx: outlinePx(slot, couponBox(coupon)),
    growthUm: { value: growthUm, standardUncertainty: 4.2, withinPhotoUncertainty: 1.3 },
    printThroughUm: { value: throughUm, standardUncertainty: 14 },
    smallestLineUm: standsUm,
    smallestSpaceUm: opensUm,
    haze: { value: 0.07 + 0.004 * slot, standardUncertainty: 0.006 },
    yellownessPerMm: { value: 0.011, standardUncertainty: 0.001 },
    inking: 'grooves',
    offAxisDeg: 6.1,
    rotationDeg: 0.4,
    umPerPx: 1000 / PX_PER_MM,
    uncertaintyBudget: [
      { source: 'scatter of the lines', standardUncertaintyUm: 1.3, shared: false },
      { source: 'ink and rim of the grooves', standardUncertaintyUm: 3.4, shared: true },
      { source: "the camera's tone curve", standardUncertaintyUm: 2.1, shared: true },
    ],
    gratings: coupon.gratings.map((grating, i) => ({
      group: grating.group,
      pitchMm: grating.pitchMm,
      pitchRatio: 0.998,
      lines: grating.grooves,
      grooveUm: { value: grating.grooveMm * 1000 - 2 * growthUm, standardUncertainty: 2.5 },
      growthUm: { value: growthUm + (i === 0 ? 0.8 : -0.8), standardUncertainty: 1.6 },
      blurPx: 0.9,
      contrast: 0.88,
      outlinePx: outlinePx(slot, { ...grating, x1Mm: grating.x0Mm + grating.pitchMm * grating.grooves }),
      profile: profile(growthUm),
    })),
    gaps: coupon.gaps.map((gap) => {
      const gapUm = gap.gapMm * 1000 - throughUm
      const common = { id: gap.id, nominalUm: gap.gapMm * 1000, outlinePx: outlinePx(slot, gap) }
      return gapUm > 60
        ? { ...common, state: 'open' as const, gapUm: { value: gapUm, standardUncertainty: 12 } }
        : { ...common, state: 'closed' as const }
    }),
    isolated: coupon.isolated.map((feature) => ({
      id: feature.id,
      kind: feature.kind,
      nominalUm: feature.widthMm * 1000,
      survives: feature.widthMm * 1000 > (feature.kind === 'line' ? standsUm : opensUm) - 20,
      outlinePx: outlinePx(slot, feature),
    })),
    windowOutlinePx: outlinePx(slot, coupon.window),
    notes: [],
  }
}

const rungs: Rung[] = [
  readRung(1, 1.4, 1.6),
  readRung(2, 1.7, -2.1),
  readRung(3, 2.1, 0.9),
  readRung(4, 2.6, 1.2),
  readRung(5, 3.2, -1.4),
  {
    slot: 6,
    exposureS: 4,
    outlinePx: outlinePx(6, couponBox(layout.coupon)),
    refusal: {
      code: 'glare',
      advice: 'A lamp is mirrored in this coupon: move the light to the side, or stand elsewhere.',
      detail: '38 % of the features are clipped, at most 2 %',
    },
  },
]

/** Straight fit with a 95 % band, drawn from 1.4 s to 4 s. */
const curve = Array.from({ length: 41 }, (_, i) => {
  const exposureS = 1.4 * (4 / 1.4) ** (i / 40)
  const growthUm = growthAt(exposureS)
  const halfUm = 2.4 + 6 * Math.log(exposureS / 2.2) ** 2
  return { exposureS, growthUm, lowUm: growthUm - halfUm, highUm: growthUm + halfUm }
})

/** A ladder whose rungs bracket dose-to-size: five rungs read, one refused. */
export const answered: ReadLadder = {
  schema: 'stepglass-reading-1',
  design,
  photo: photoPx,
  card: {
    umPerPx: 1000 / PX_PER_MM,
    tiltDeg: 2.3,
    cameraDistanceMm: 410,
    radialDistortion: -0.012,
    radialDistortion4: 0,
    printScaleRatio: { value: 1.002, standardUncertainty: 0.0004 },
    residuals: layout.card.fiducials.map(({ xMm, yMm }, fiducial) => ({
      fiducial,
      xMm,
      yMm,
      dxUm: 8 * Math.sin(1 + 2.3 * fiducial),
      dyUm: 8 * Math.cos(2 + 1.7 * fiducial),
    })),
    residualUm: 9,
    fiducialsFound: layout.card.fiducials.length,
    fiducialsExpected: layout.card.fiducials.length,
    fiducialsPx: layout.card.fiducials.map(({ xMm, yMm }) => toPx(xMm, yMm)),
  },
  tone: {
    exponent: 1.02,
    contrast: 0.04,
    inkGainUm: 22,
    residual: 0.0046,
    sharpening: { amount: 0.62, radiusPx: 1.4 },
    patches: [0.25, 0.5, 0.75].map((coverage, i) => ({
      coverage,
      pitchMm: 0.169,
      codeValue: 0.8 - 0.6 * coverage,
      expectedLight: 0.96 - 0.98 * coverage,
      readLight: 0.96 - 0.98 * coverage + (i === 1 ? -0.006 : 0.004),
    })),
    curve: Array.from({ length: 21 }, (_, i) => {
      const light = (i / 20) ** 2
      return { light, codeValue: 0.86 * light ** 0.5, srgbCodeValue: 0.86 * light ** 0.45 }
    }),
  },
  gates: [
    { gate: 'overshoot', value: 0.041, limit: 0.012, passed: false },
    { gate: 'tone-misfit', value: 0.0046, limit: 0.006, passed: true },
    { gate: 'noise-correlation', limit: 0.33, passed: true },
    { gate: 'odd-edges', value: 0.8, limit: 3.1, passed: true },
    { gate: 'halo', value: 0.002, limit: 0.012, passed: true },
  ],
  rungs,
  growthFit: {
    model: 'straight',
    coefficients: [growthAt(2.35), 52],
    referenceS: 2.35,
    whyChosen: 'straight: lowest criterion; 2.1 below the quadratic one; 3.9 below the threshold one',
    candidates: [
      { model: 'straight', criterion: 5.1, weight: 0.66, doseToSize: { exposureS: 2.35, intervalS: [2.18, 2.54] } },
      { model: 'quadratic', criterion: 7.2, weight: 0.24, doseToSize: { exposureS: 2.33, intervalS: [2.13, 2.55] } },
      { model: 'threshold', criterion: 9, weight: 0.1 },
    ],
    couponSpreadUm: 0.4,
    gratingOffsets: [
      { group: 'x-fine', offsetUm: { value: 0.8, standardUncertainty: 0.5 } },
      { group: 'x-coarse', offsetUm: { value: -0.8, standardUncertainty: 0.5 } },
    ],
    turnedSlots: [],
    outlyingRungs: [],
    residualsUm: [1.6, -2.1, 0.9, 1.2, -1.4].map((residualUm, i) => ({ slot: i + 1, residualUm })),
    curve,
    degreesOfFreedom: 3,
  },
  penetrationDepthUm: { value: 140, standardUncertainty: 9 },
  doseToSize: {
    exposureS: 2.35,
    intervalS: [2.16, 2.56],
    reachesEnd: { low: false, high: false },
    inWords: 'between the ends with 95 % confidence',
  },
  usableRange: {
    toleranceUm: 20,
    rangeS: [1.6, 3.45],
    latitudeRatio: 2.16,
    latitudePercent: 79,
    highIntervalS: [3.25, 3.65],
    confidentRangeS: [1.76, 3.12],
    reachesEnd: { low: false, high: false },
  },
  suggestion: {
    exposureS: 2.3,
    intervalS: [2.16, 2.56],
    expectedGrowthUm: { value: -1.1, standardUncertainty: 4.4 },
    rule: 'Dose-to-size, rounded to the 0.1 s steps of the printer.',
    limitedBy: 'The ink in the grooves shifts all coupons alike by up to 7 µm.',
    confidence: 'Five rungs on both sides of zero growth agree with one line to within 2 µm.',
    chosenBy: 'dose-to-size',
    limits: [{ by: 'readings', inWords: 'the ink in the grooves, which shifts all coupons alike' }],
    confidenceBasis: {
      reachesEnd: { low: false, high: false },
      rungs: { small: 2, big: 3 },
      mostlyShared: true,
      caliperTabs: 0,
    },
  },
  warnings: [
    {
      code: 'card-stretched',
      advice:
        'The printer stretched the card in one direction. Widths do not depend on it; print at 100 % to have it right.',
      detail: 'height over width of a printed square 0.984, at most 0.01 from 1',
    },
  ],
}

/** A ladder that begins beyond dose-to-size: no suggestion, but the next ladder to print. */
export const unbracketed: ReadLadder = (() => {
  const { suggestion: _s, usableRange: _u, doseToSize: _d, ...rest } = answered
  return {
    ...rest,
    rungs: rungs.slice(3),
    noSuggestion: {
      code: 'ladder-does-not-bracket',
      advice: 'Every rung printed too big: the right exposure lies below the lowest of this ladder.',
      detail: 'lowest rung 2.6 s grows by 6 µm per side',
      nextLadder: {
        exposuresS: [1.2, 1.5, 1.8, 2.2],
        why: 'Four rungs below the lowest one, close enough that two of them lie on either side of zero growth.',
      },
    },
  }
})()

export const refused = {
  schema: 'stepglass-reading-1' as const,
  refusal: {
    code: 'card-cropped',
    advice: 'Step back until all black discs of the card are in the picture, and photograph again.',
    detail: '7 of 15 discs found, 10 needed',
  },
}
