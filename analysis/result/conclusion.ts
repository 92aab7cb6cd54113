import { Type, type Static } from 'typebox'
import { IntervalS, MeasuredValue, RefusalReply } from './parts.js'

export const SurvivalPoint = Type.Object(
  {
    value: Type.Number(),
    interval: Type.Tuple([Type.Number(), Type.Number()], { description: '95 %, cut at the outermost rungs or sizes' }),
    reachesEnd: Type.Object({ low: Type.Boolean(), high: Type.Boolean() }),
  },
  { description: 'with its 95 % interval from the profile likelihood' },
)
export type SurvivalPoint = Static<typeof SurvivalPoint>

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
