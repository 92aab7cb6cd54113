import type { PointPx, ReadLadder, ReadRung } from '../../../analysis/index.js'

const box = (x: number, y: number, width: number, height: number): PointPx[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
]

const rung = (slot: number, exposureS: number, growth: number, y: number): ReadRung => ({
  slot,
  exposureS,
  outlinePx: box(100, y, 600, 200),
  growthUm: { value: growth, standardUncertainty: 3.2, withinPhotoUncertainty: 1.1 },
  printThroughUm: { value: 410, standardUncertainty: 12 },
  smallestLineUm: 200,
  smallestSpaceUm: null,
  haze: { value: 0.052, standardUncertainty: 0.011 },
  yellownessPerMm: { value: 0.0021, standardUncertainty: 0.0004 },
  inking: 'grooves',
  offAxisDeg: 4.2,
  rotationDeg: -0.6,
  umPerPx: 41.5,
  uncertaintyBudget: [{ source: 'scatter between lines', standardUncertaintyUm: 1.1, shared: false }],
  gratings: [
    {
      group: 'x-fine',
      pitchMm: 0.6,
      pitchRatio: 0.998,
      lines: 10,
      grooveUm: { value: 280.5, standardUncertainty: 2.5 },
      growthUm: { value: growth, standardUncertainty: 3 },
      blurPx: 1.3,
      contrast: 0.82,
      outlinePx: box(130, y + 30, 150, 60),
      profile: { positionMm: [0, 0.1, 0.2], light: [1, 0.2, 0.9], fitted: [0.98, 0.22, 0.91] },
    },
  ],
  gaps: [
    {
      id: 'z-1',
      nominalUm: 1200,
      state: 'open',
      gapUm: { value: 790, standardUncertainty: 9 },
      outlinePx: box(300, y + 30, 40, 60),
    },
    { id: 'z-2', nominalUm: 400, state: 'closed', outlinePx: box(350, y + 30, 20, 60) },
  ],
  isolated: [{ id: 'line-200', kind: 'line', nominalUm: 200, survives: true, outlinePx: box(400, y + 30, 10, 60) }],
  windowOutlinePx: box(520, y + 40, 120, 120),
  notes: [{ code: 'glare-on-gap', advice: 'Turn the card away from the lamp.' }],
})

/** A reading with every field filled: made up, in no way measured. */
export const madeUpReading: ReadLadder = {
  schema: 'stepglass-reading-1',
  design: { ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.5] },
  photo: { widthPx: 1200, heightPx: 900 },
  card: {
    umPerPx: 42,
    tiltDeg: 3.1,
    cameraDistanceMm: 390,
    radialDistortion: -0.01,
    radialDistortion4: 0,
    printScaleRatio: { value: 1.002, standardUncertainty: 0.0004 },
    residuals: [{ fiducial: 0, xMm: -64, yMm: 50, dxUm: 6, dyUm: -3 }],
    residualUm: 14,
    fiducialsFound: 8,
    fiducialsExpected: 9,
    fiducialsPx: [
      [40, 40],
      [1160, 40],
      [1160, 860],
    ],
  },
  tone: { exponent: 1.02, contrast: 0.01, inkGainUm: 18, residual: 0.004, patches: [] },
  gates: [],
  rungs: [
    rung(1, 1.6, -14.3, 60),
    rung(2, 2, 1.2, 330),
    {
      slot: 3,
      exposureS: 2.5,
      outlinePx: box(100, 620, 600, 200),
      refusal: { code: 'glare', advice: 'Move the lamp and photograph again.', detail: 'window clipped' },
    },
  ],
  growthFit: {
    model: 'straight',
    coefficients: [1.2, 69.5],
    referenceS: 2,
    residualsUm: [{ slot: 1, residualUm: 0.1 }],
    curve: [{ exposureS: 1.6, growthUm: -14.3, lowUm: -20, highUm: -8 }],
    degreesOfFreedom: 1,
  },
  penetrationDepthUm: { value: 305, standardUncertainty: 40 },
  doseToSize: { exposureS: 1.97, intervalS: [1.88, 2.06] },
  usableRange: {
    toleranceUm: 20,
    rangeS: [1.52, 2.58],
    confidentRangeS: [1.6, 2.4],
    reachesEnd: { low: true, high: false },
  },
  survival: [
    {
      kind: 'line',
      coefficients: [1.5, 4, 3],
      referenceUm: 250,
      referenceS: 2,
      sizes: [
        {
          nominalUm: 200,
          survives50S: { value: 1.7, interval: [1.6, 2.1], reachesEnd: { low: true, high: false } },
          survives95S: { value: 2.2, interval: [1.9, 2.5], reachesEnd: { low: false, high: true } },
        },
      ],
    },
  ],
  suggestion: {
    exposureS: 2,
    intervalS: [1.88, 2.06],
    expectedGrowthUm: { value: 1.2, standardUncertainty: 3.4 },
    rule: 'dose-to-size, rounded to the time step',
    limitedBy: 'growth',
    limits: [{ by: 'growth', inWords: 'growth' }],
    halfStep: {
      lower: {
        exposureS: 1.95,
        growthUm: { value: -0.5, standardUncertainty: 3.4 },
        safeLineUm: 214,
        safeSpaceUm: 180,
      },
      higher: {
        exposureS: 2.05,
        growthUm: { value: 2.9, standardUncertainty: 3.4 },
        haze: { value: 0.053, standardUncertainty: 0.011 },
      },
    },
    safeLineUm: { value: 211, interval: [160, 400], reachesEnd: { low: false, high: true } },
    safeSpaceUm: { value: 183, interval: [102, 240], reachesEnd: { low: true, high: false } },
    confidence: 'Fairly sure: two rungs agree within their uncertainty.',
  },
  warnings: [{ code: 'card-scaled', advice: 'The card was printed 2 % too small; widths do not depend on it.' }],
}
