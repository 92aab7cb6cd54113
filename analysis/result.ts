import { Type, type Static } from 'typebox'
import { ProcessConclusion } from './finish/process-schema.js'
import { LadderDesign } from './layout/schema.js'
import { MeasuredValue, RefusalReply } from './result-parts.js'

export { MeasuredValue, RefusalReply }

export const IntervalS = Type.Tuple([Type.Number(), Type.Number()], { description: '95 % interval, s' })

export const SurvivalPoint = Type.Object(
  {
    value: Type.Number(),
    interval: Type.Tuple([Type.Number(), Type.Number()], { description: '95 %, cut at the outermost rungs or sizes' }),
    reachesEnd: Type.Object({ low: Type.Boolean(), high: Type.Boolean() }),
  },
  { description: 'with its 95 % interval from the profile likelihood' },
)
export type SurvivalPoint = Static<typeof SurvivalPoint>

/** A place in the upright photograph: column, row, in pixels; the centre of the top left pixel is (0, 0). */
export const PointPx = Type.Tuple([Type.Number(), Type.Number()])
export type PointPx = Static<typeof PointPx>

export const GratingReading = Type.Object({
  group: Type.String(),
  pitchMm: Type.Number(),
  pitchRatio: Type.Number({
    description: "pitch as the card's print measures it over nominal: print scale, shrinkage, distance of the camera",
  }),
  lines: Type.Integer({ description: 'grooves measured' }),
  grooveUm: MeasuredValue,
  growthUm: MeasuredValue,
  blurPx: Type.Number({ description: 'standard deviation of the edge blur' }),
  contrast: Type.Number({ description: '(bright - dark) / (bright + dark) in linear light' }),
  outlinePx: Type.Array(PointPx),
  profile: Type.Optional(
    Type.Object({
      positionMm: Type.Array(Type.Number()),
      light: Type.Array(Type.Number(), { description: 'linear, paper white = 1' }),
      fitted: Type.Array(Type.Number()),
    }),
  ),
})
export type GratingReading = Static<typeof GratingReading>

export const GapReading = Type.Object({
  id: Type.String(),
  nominalUm: Type.Number(),
  state: Type.Union([Type.Literal('open'), Type.Literal('closed'), Type.Literal('unread')]),
  gapUm: Type.Optional(MeasuredValue),
  outlinePx: Type.Array(PointPx),
})
export type GapReading = Static<typeof GapReading>

export const IsolatedReading = Type.Object({
  id: Type.String(),
  kind: Type.Union([Type.Literal('line'), Type.Literal('space')]),
  nominalUm: Type.Number(),
  survives: Type.Boolean(),
  outlinePx: Type.Array(PointPx),
})
export type IsolatedReading = Static<typeof IsolatedReading>

export const UncertaintyTerm = Type.Object({
  source: Type.String(),
  standardUncertaintyUm: Type.Number({ minimum: 0 }),
  shared: Type.Boolean({
    description: 'true: shifts all coupons of the photo alike; false: differs from coupon to coupon',
  }),
  averages: Type.Optional(
    Type.Boolean({ description: 'true: another one on every photograph, so that repeats average it away' }),
  ),
})
export type UncertaintyTerm = Static<typeof UncertaintyTerm>

const GrowthValue = Type.Intersect(
  [MeasuredValue, Type.Object({ withinPhotoUncertainty: Type.Number({ minimum: 0 }) })],
  {
    description:
      'lateral growth per side, um, positive: solid too big. standardUncertainty is that of the absolute value; withinPhotoUncertainty leaves out what shifts all coupons of the photo alike',
  },
)

export const WindowDefect = Type.Object({
  kind: Type.Enum(['bubble', 'dust', 'layer-band', 'scratch'], {
    description:
      'by shape: a bubble has light of its own beside its dark, dust is dark throughout, a layer band lies along the layers',
  }),
  areaMm2: Type.Number(),
  depth: Type.Number({
    description: "greatest departure from what the target should show, share of the paper's light; negative: darker",
  }),
  outlinePx: Type.Array(PointPx),
})
export type WindowDefect = Static<typeof WindowDefect>

/** What the window of one coupon shows, relative to the bare copy of its target in the same photograph. */
export const WindowDetail = Type.Object({
  surface: Type.Intersect([MeasuredValue], {
    description:
      'surface index: share of the contrast of 2 mm bars across the build lost to layer lines and the like, which smoothing or a coat could win back',
  }),
  clarity: Type.Array(
    Type.Object({
      direction: Type.Union([Type.Literal('along-build'), Type.Literal('across-build')]),
      pitchMm: Type.Number(),
      angleDeg: Type.Number({ description: 'bars of this pitch lose what is scattered beyond about this angle' }),
      kept: MeasuredValue,
    }),
    { description: 'contrast of bars kept, of the light that comes through' },
  ),
  scatterAngleDeg: Type.Intersect([MeasuredValue], { description: 'half of the scattered light goes out within it' }),
  transmission: Type.Intersect([MeasuredValue], { description: "share of bare paper's light" }),
  mirroredLight: Type.Intersect([MeasuredValue], { description: "share of bare paper's light, taken out" }),
  yellowness: Type.Object(
    {
      thicknessMm: Type.Number(),
      deltaB: MeasuredValue,
      deltaYellownessIndex: MeasuredValue,
      deltaE2000: MeasuredValue,
    },
    { description: 'change of white by this thickness of resin: relative, no spectrum was measured' },
  ),
  defects: Type.Array(WindowDefect, { description: 'over the target and its white border' }),
  defectShare: Type.Number({ description: 'of the examined part of the window that they cover' }),
  examinedMm2: Type.Number(),
  score: Type.Object({
    value: Type.Number({ minimum: 0, maximum: 100 }),
    standardUncertainty: Type.Number({ minimum: 0 }),
    formula: Type.String(),
  }),
  calibratedHazePercent: Type.Optional(
    Type.Intersect([MeasuredValue], {
      description: 'haze on the scale of two pieces of known haze, if these were given',
    }),
  ),
})
export type WindowDetail = Static<typeof WindowDetail>

const rungCommon = {
  slot: Type.Integer({ minimum: 1 }),
  exposureS: Type.Number(),
  outlinePx: Type.Array(PointPx, { description: 'the coupon, or its empty slot' }),
}
export const ReadRung = Type.Object({
  ...rungCommon,
  growthUm: GrowthValue,
  printThroughUm: Type.Optional(MeasuredValue),
  smallestLineUm: Type.Union([Type.Number(), Type.Null()], { description: 'narrowest standing line; null: none' }),
  smallestSpaceUm: Type.Union([Type.Number(), Type.Null()], { description: 'narrowest open space; null: none' }),
  haze: Type.Optional(
    Type.Intersect([MeasuredValue], {
      description: 'our relative haze index: share of light scattered beyond 2.5 degrees, not a standard haze value',
    }),
  ),
  yellownessPerMm: Type.Optional(MeasuredValue),
  window: Type.Optional(WindowDetail),
  inking: Type.Union([Type.Literal('grooves'), Type.Literal('lands')]),
  offAxisDeg: Type.Number(),
  rotationDeg: Type.Number({ description: 'of the coupon in its slot' }),
  umPerPx: Type.Number(),
  uncertaintyBudget: Type.Array(UncertaintyTerm),
  gratings: Type.Array(GratingReading),
  gaps: Type.Array(GapReading),
  isolated: Type.Array(IsolatedReading),
  windowOutlinePx: Type.Array(PointPx),
  notes: Type.Array(RefusalReply, { description: 'parts of this coupon that could not be read, each with its reason' }),
})
export type ReadRung = Static<typeof ReadRung>
export const RefusedRung = Type.Object({ ...rungCommon, refusal: RefusalReply })
export type RefusedRung = Static<typeof RefusedRung>
export const Rung = Type.Union([ReadRung, RefusedRung])
export type Rung = Static<typeof Rung>

const CaliperTab = Type.Object(
  {
    slot: Type.Integer({ minimum: 1 }),
    widthMm: Type.Number({ minimum: 3, maximum: 5, description: "width of the coupon's 4 mm tab across x" }),
  },
  { additionalProperties: false },
)
export const CaliperAnchor = Type.Object({
  nominalMm: Type.Number({ description: 'width of the tab as drawn' }),
  tabs: Type.Array(Type.Intersect([CaliperTab, Type.Object({ growthUm: Type.Number({ description: 'per side' }) })])),
  offsetUm: Type.Intersect([MeasuredValue], {
    description: 'growth by photo less growth by caliper, mean over the tabs; uncertainty of both together',
  }),
  appliedUm: Type.Number({
    description: 'taken off the growth of every rung: the offset, weighted by how well photo and caliper know it',
  }),
  photoAlone: Type.Array(
    Type.Object({
      slot: Type.Integer(),
      growthUm: GrowthValue,
      uncertaintyBudget: Type.Array(UncertaintyTerm),
    }),
    { description: 'the rungs as the photo alone gives them' },
  ),
})
export type CaliperAnchor = Static<typeof CaliperAnchor>

export const Gate = Type.Object(
  {
    gate: Type.Union([
      Type.Literal('overshoot', { description: "light's overshoot beside black edges, share of the step" }),
      Type.Literal('sharpening', { description: 'amount of the unsharp mask that was found and taken out' }),
      Type.Literal('tone-misfit', { description: "rms misfit of the tone patches, share of paper's light" }),
      Type.Literal('noise-correlation', {
        description: "of noise three pixels apart, across the borders of a JPEG's blocks",
      }),
      Type.Literal('odd-edges', {
        description:
          "how far the black edges' shape lies outside what a lens and sharpening give, standard uncertainties",
      }),
      Type.Literal('halo', { description: "lift of the paper's light beside the black discs" }),
    ]),
    value: Type.Optional(Type.Number()),
    limit: Type.Number(),
    passed: Type.Boolean(),
  },
  { description: 'a mark of what the camera did after its sensor, against its limit' },
)
export type Gate = Static<typeof Gate>

export const GrowthModelName = Type.Union([
  Type.Literal('straight'),
  Type.Literal('quadratic'),
  Type.Literal('threshold'),
])

/** Which way the lines of a coupon were moved across the mask: x, or y when it was printed turned by 90 degrees. */
export const GrowthAxis = Type.Union([Type.Literal('x'), Type.Literal('y')])

export const GrowthCandidate = Type.Object({
  model: GrowthModelName,
  criterion: Type.Number({ description: "Akaike's criterion; lower is better, only differences count" }),
  weight: Type.Number({ minimum: 0, maximum: 1, description: 'Akaike weight among the models that can hold' }),
  doseToSize: Type.Optional(
    Type.Object({ exposureS: Type.Number(), intervalS: IntervalS }, { description: 'by this model alone' }),
  ),
})
export type GrowthCandidate = Static<typeof GrowthCandidate>

export const OutlyingRung = Type.Object({
  slot: Type.Integer(),
  exposureS: Type.Number(),
  offUm: Type.Number({ description: 'measured less what the other rungs predict' }),
  studentised: Type.Number({ description: 'that over its uncertainty, as a standard normal deviate' }),
  limit: Type.Number({ description: 'exceeded by chance in about 5 % of ladders (Bonferroni)' }),
  doseToSizeWithout: Type.Optional(Type.Object({ exposureS: Type.Number(), intervalS: IntervalS })),
})
export type OutlyingRung = Static<typeof OutlyingRung>

export const GrowthFitReply = Type.Object({
  model: GrowthModelName,
  coefficients: Type.Array(Type.Number(), {
    description:
      'straight, quadratic: growth um = sum of c[i] * u ^ i, u = ln(exposure / referenceS). threshold: blur c[0] um and c[1], the u at which a blurred edge prints to size; growth = -c[0] * normalQuantile(exp(c[1] - u) / 2)',
  }),
  referenceS: Type.Number(),
  whyChosen: Type.String(),
  candidates: Type.Array(GrowthCandidate, { description: 'every model fitted, the likeliest first' }),
  criticalExposureS: Type.Optional(
    Type.Number({ description: 'threshold model: layer exposure at which the accumulated light just sets resin' }),
  ),
  couponSpreadUm: Type.Number({
    description: 'scatter between coupons beyond their stated uncertainties, standard deviation; 0: they explain it',
  }),
  gratingOffsets: Type.Array(
    Type.Object(
      { group: Type.String(), offsetUm: MeasuredValue },
      { description: 'of a grating from the mean of all' },
    ),
  ),
  axisDifferenceUm: Type.Optional(
    Type.Intersect([MeasuredValue, Type.Object({ significant: Type.Boolean({ description: 'at 95 %' }) })], {
      description: 'growth of coupons as drawn (x) less that of turned ones (y), where both were printed',
    }),
  ),
  turnedSlots: Type.Array(Type.Integer(), { description: 'slots whose coupon was taken as printed turned' }),
  outlyingRungs: Type.Array(OutlyingRung),
  residualsUm: Type.Array(Type.Object({ slot: Type.Integer(), residualUm: Type.Number() })),
  curve: Type.Array(
    Type.Object({ exposureS: Type.Number(), growthUm: Type.Number(), lowUm: Type.Number(), highUm: Type.Number() }),
    { description: 'for drawing, with its 95 % band' },
  ),
  degreesOfFreedom: Type.Integer(),
})

export const DoseToSize = Type.Object({
  exposureS: Type.Number(),
  intervalS: IntervalS,
  reachesEnd: Type.Object(
    { low: Type.Boolean(), high: Type.Boolean() },
    { description: 'ends at which the interval is cut by the ladder; it may go on' },
  ),
  inWords: Type.String(),
  byAxis: Type.Optional(
    Type.Array(Type.Object({ axis: GrowthAxis, exposureS: Type.Number(), intervalS: IntervalS }), {
      description: 'each direction by itself, when they differ at 95 %',
    }),
  ),
})

export const UsableRange = Type.Object({
  toleranceUm: Type.Number({ description: 'growth allowed per side' }),
  rangeS: IntervalS,
  lowIntervalS: Type.Optional(IntervalS),
  highIntervalS: Type.Optional(IntervalS),
  confidentRangeS: Type.Optional(IntervalS),
  reachesEnd: Type.Object({ low: Type.Boolean(), high: Type.Boolean() }),
  latitudeRatio: Type.Number({
    description: 'upper over lower end of rangeS; at least this where the ladder ended first',
  }),
  latitudePercent: Type.Number({
    description: 'width of rangeS over the exposure in it nearest to size, per cent: exposure latitude',
  }),
})

const Neighbour = Type.Object({
  exposureS: Type.Number(),
  growthUm: MeasuredValue,
  safeLineUm: Type.Optional(Type.Number({ description: 'width from which lines stand with 95 % chance' })),
  safeSpaceUm: Type.Optional(Type.Number({ description: 'width from which spaces stay open with 95 % chance' })),
  haze: Type.Optional(MeasuredValue),
})

export const SurvivalModel = Type.Object(
  {
    kind: Type.Union([Type.Literal('line'), Type.Literal('space')]),
    coefficients: Type.Array(Type.Number(), {
      description: 'logit(chance) = c[0] + c[1] ln(size / referenceUm) + c[2] ln(exposure / referenceS)',
    }),
    referenceUm: Type.Number(),
    referenceS: Type.Number(),
    sizes: Type.Array(
      Type.Object({
        nominalUm: Type.Number(),
        survives50S: Type.Optional(SurvivalPoint),
        survives95S: Type.Optional(SurvivalPoint),
      }),
      { description: 'exposure at which each size printed survives with 50 and 95 % chance, where between the rungs' },
    ),
  },
  { description: 'chance that lines stand, or spaces stay open; only where some survived and some failed' },
)
export type SurvivalModel = Static<typeof SurvivalModel>

export const WindowTrend = Type.Object(
  {
    of: Type.Enum(['haze', 'yellownessPerMm']),
    model: Type.Enum(['straight', 'quadratic'], { description: 'in ln(exposure)' }),
    verdict: Type.Enum(['rises', 'falls', 'bends', 'no-trend'], { description: 'at 95 %' }),
    change: Type.Intersect([MeasuredValue], { description: 'at the highest exposure less at the lowest' }),
    least: Type.Optional(
      Type.Object(
        { exposureS: Type.Number(), intervalS: IntervalS },
        { description: 'exposure of the least value; only where the data show one between the rungs' },
      ),
    ),
    curve: Type.Array(
      Type.Object({ exposureS: Type.Number(), value: Type.Number(), low: Type.Number(), high: Type.Number() }),
      { description: 'for drawing, with its 95 % band' },
    ),
  },
  { description: 'how haze or yellowness goes with exposure' },
)
export type WindowTrend = Static<typeof WindowTrend>

export const NextLadder = Type.Object({
  exposuresS: Type.Array(Type.Number()),
  why: Type.String(),
  reason: Type.Optional(
    Type.Enum(['again', 'lower', 'higher', 'wider', 'opened', 'surer'], {
      description: 'the same as why, for programs',
    }),
  ),
})

export const Suggestion = Type.Object({
  exposureS: Type.Number(),
  intervalS: IntervalS,
  expectedGrowthUm: MeasuredValue,
  expectedHaze: Type.Optional(MeasuredValue),
  expectedYellownessPerMm: Type.Optional(MeasuredValue),
  rule: Type.String({ description: 'how this exposure was chosen' }),
  chosenBy: Type.Optional(
    Type.Enum(['dose-to-size', 'survival', 'yellowness', 'clarity'], { description: 'the same as rule, for programs' }),
  ),
  limitedBy: Type.Optional(Type.String({ description: 'what keeps it from being better, named first' })),
  limits: Type.Optional(
    Type.Array(
      Type.Object({
        by: Type.Enum(['walls', 'gaps', 'haze', 'yellowness', 'growth', 'readings']),
        inWords: Type.String({ description: 'goes on after "limited by"' }),
      }),
    ),
  ),
  halfStep: Type.Optional(
    Type.Object(
      { lower: Type.Optional(Neighbour), higher: Type.Optional(Neighbour) },
      { description: 'what half a time step either way does' },
    ),
  ),
  safeLineUm: Type.Optional(SurvivalPoint),
  safeSpaceUm: Type.Optional(SurvivalPoint),
  confidence: Type.String({ description: 'one sentence of how sure' }),
  confidenceBasis: Type.Optional(
    Type.Object(
      {
        reachesEnd: Type.Object({ low: Type.Boolean(), high: Type.Boolean() }),
        rungs: Type.Object({ small: Type.Integer(), big: Type.Integer() }),
        mostlyShared: Type.Boolean(),
        caliperTabs: Type.Integer(),
      },
      { description: 'what the sentence rests on, for programs and other languages' },
    ),
  ),
  nextLadder: Type.Optional(NextLadder),
})
export type Suggestion = Static<typeof Suggestion>

export const NoSuggestion = Type.Intersect([RefusalReply, Type.Object({ nextLadder: NextLadder })])

export const ReadLadder = Type.Object(
  {
    schema: Type.Literal('stepglass-reading-1'),
    design: LadderDesign,
    photo: Type.Object({ widthPx: Type.Integer(), heightPx: Type.Integer() }),
    card: Type.Object({
      umPerPx: Type.Number(),
      tiltDeg: Type.Number(),
      cameraDistanceMm: Type.Number(),
      radialDistortion: Type.Number({ description: 'k1: relative shift at the half diagonal' }),
      radialDistortion4: Type.Number({ description: 'k2, of fourth order; 0: the discs do not ask for it' }),
      printScaleRatio: Type.Intersect([MeasuredValue], {
        description: 'height over width of what was printed square; widths do not depend on it',
      }),
      bowMm: Type.Optional(
        Type.Number({ description: 'how far the middle stands over the edges, when the discs show it' }),
      ),
      residuals: Type.Array(
        Type.Object({
          fiducial: Type.Integer({ description: "index in the card's layout" }),
          xMm: Type.Number(),
          yMm: Type.Number(),
          dxUm: Type.Number({ description: 'seen less fitted, along x of the card' }),
          dyUm: Type.Number(),
        }),
        { description: 'of the discs that the pose rests on' },
      ),
      residualUm: Type.Number({ description: 'rms distance of the fiducials from the fitted pose' }),
      fiducialsFound: Type.Integer(),
      fiducialsExpected: Type.Integer(),
      fiducialsPx: Type.Array(PointPx),
    }),
    tone: Type.Object({
      exponent: Type.Number({ description: '1: the picture follows its declared tone curve' }),
      contrast: Type.Number({ description: 'S-shape about middle grey; 0: none' }),
      inkGainUm: Type.Number({ description: 'how far printed black spreads beyond each edge' }),
      residual: Type.Optional(Type.Number({ description: 'rms misfit of the tone patches, share of white' })),
      sharpening: Type.Optional(
        Type.Object(
          { amount: Type.Number(), radiusPx: Type.Number() },
          { description: 'unsharp mask found on the black edges and taken out' },
        ),
      ),
      patches: Type.Array(
        Type.Object({
          coverage: Type.Number({ description: 'nominal share of black' }),
          pitchMm: Type.Number(),
          codeValue: Type.Number({ description: 'mean code value, share of full scale' }),
          expectedLight: Type.Number({ description: 'of white paper, ink gain included' }),
          readLight: Type.Number({ description: 'of white paper, by the fitted curve' }),
        }),
        { description: 'the line gratings that tell tone from ink gain' },
      ),
      curve: Type.Optional(
        Type.Array(
          Type.Object({
            light: Type.Number({ description: 'of white paper' }),
            codeValue: Type.Number({ description: 'that the fitted curve gives it, share of full scale' }),
            srgbCodeValue: Type.Number({ description: 'that sRGB gives it, equal at the paper' }),
          }),
          { description: 'for drawing' },
        ),
      ),
    }),
    gates: Type.Array(Gate),
    rungs: Type.Array(Rung),
    caliper: Type.Optional(CaliperAnchor),
    growthFit: Type.Optional(GrowthFitReply),
    penetrationDepthUm: Type.Optional(MeasuredValue),
    windowTrends: Type.Optional(Type.Array(WindowTrend)),
    doseToSize: Type.Optional(DoseToSize),
    usableRange: Type.Optional(UsableRange),
    survival: Type.Optional(Type.Array(SurvivalModel)),
    suggestion: Type.Optional(Suggestion),
    noSuggestion: Type.Optional(NoSuggestion),
    process: Type.Optional(ProcessConclusion),
    resinTemperatureC: Type.Optional(Type.Number({ description: 'of the resin while printing, as noted' })),
    warnings: Type.Array(RefusalReply),
  },
  { $id: 'ReadLadder' },
)
/** What one photograph says of one ladder. */
export type ReadLadder = Static<typeof ReadLadder>

const CombinedGrating = Type.Pick(GratingReading, ['group', 'growthUm'])
export type CombinedGrating = Static<typeof CombinedGrating>

export const CombinedRung = Type.Union([
  Type.Intersect([
    Type.Pick(ReadRung, [
      ...(['slot', 'exposureS', 'growthUm', 'printThroughUm', 'smallestLineUm', 'smallestSpaceUm', 'haze'] as const),
      ...(['yellownessPerMm', 'uncertaintyBudget', 'isolated'] as const),
    ]),
    Type.Object({
      gratings: Type.Array(CombinedGrating),
      photos: Type.Integer({ minimum: 1, description: 'photographs on which it could be read' }),
    }),
  ]),
  Type.Pick(RefusedRung, ['slot', 'exposureS', 'refusal']),
])
export type CombinedRung = Static<typeof CombinedRung>

const conclusion = Type.Pick(ReadLadder, [
  ...([
    'growthFit',
    'penetrationDepthUm',
    'windowTrends',
    'doseToSize',
    'usableRange',
    'survival',
    'suggestion',
    'noSuggestion',
    'process',
  ] as const),
  ...(['design', 'caliper', 'warnings'] as const),
]).properties

export const CombinedLadder = Type.Object(
  {
    schema: Type.Literal('stepglass-combined-1'),
    photos: Type.Array(
      Type.Object({
        rungsRead: Type.Integer(),
        offsetUm: Type.Number({ description: 'growth that this photograph adds to all coupons against the others' }),
        weight: Type.Number(),
      }),
      { description: 'in the order given' },
    ),
    rungs: Type.Array(CombinedRung),
    ...conclusion,
  },
  { $id: 'CombinedLadder' },
)
/** What several photographs of the same coupons say together. */
export type CombinedLadder = Static<typeof CombinedLadder>

export const RefusedLadder = Type.Object(
  { schema: Type.Literal('stepglass-reading-1'), refusal: RefusalReply },
  { $id: 'RefusedLadder' },
)
export type RefusedLadder = Static<typeof RefusedLadder>

export const LadderReading = Type.Union([ReadLadder, RefusedLadder], { $id: 'LadderReading' })
/** Result of reading one photograph: the ladder, or the named reason why nothing can be read. */
export type LadderReading = Static<typeof LadderReading>

export const HazeStandard = Type.Object(
  { index: Type.Number(), hazePercent: Type.Number({ minimum: 0, maximum: 100 }) },
  { additionalProperties: false },
)
export type HazeStandard = Static<typeof HazeStandard>

export const MeasureOptions = Type.Object(
  {
    toleranceUm: Type.Number({ exclusiveMinimum: 0, default: 20, description: 'lateral growth allowed per side, um' }),
    timeStepS: Type.Number({
      exclusiveMinimum: 0,
      default: 0.1,
      description: "the printer's smallest step of layer exposure, s",
    }),
    smallestLineUm: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'narrowest wall that must stand, um' }),
    ),
    smallestSpaceUm: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'narrowest gap that must stay open, um' }),
    ),
    caliperMm: Type.Optional(
      Type.Array(CaliperTab, {
        minItems: 1,
        maxItems: 16,
        description: 'caliper readings of the tabs, which anchor the absolute growth; repeats average',
      }),
    ),
    caliperUncertaintyMm: Type.Optional(
      Type.Number({
        exclusiveMinimum: 0,
        maximum: 0.5,
        description: 'standard uncertainty of the caliper itself, mm (default: 0.012, a maximum error of 0.02)',
      }),
    ),
    resinTemperatureC: Type.Optional(
      Type.Number({
        minimum: -20,
        maximum: 100,
        description: 'of the resin while printing, degrees C; noted and warned about, never corrected for',
      }),
    ),
    turnedSlots: Type.Optional(
      Type.Array(Type.Integer({ minimum: 1 }), {
        description:
          'slots whose coupon was printed turned by 90 degrees about the vertical: its lines grow along the other axis of the mask',
      }),
    ),
    prefer: Type.Optional(
      Type.Enum(['size', 'clarity'], {
        description:
          'within the tolerance: size (default) takes dose-to-size, clarity the clearest exposure if haze shows a trend',
      }),
    ),
    mostYellownessPerMm: Type.Optional(
      Type.Number({
        exclusiveMinimum: 0,
        description: 'most yellowness wanted, log10 of red over blue per mm; bounds the exposure if it shows a trend',
      }),
    ),
    hazeCalibration: Type.Optional(
      Type.Tuple([HazeStandard, HazeStandard], {
        description:
          'two pieces of known haze and the index each was read with; values are then given on their scale too',
      }),
    ),
    keepProfiles: Type.Boolean({ default: false, description: 'add each grating profile with its fit to the result' }),
  },
  { $id: 'MeasureOptions', additionalProperties: false },
)
export type MeasureOptions = Static<typeof MeasureOptions>
