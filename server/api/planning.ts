import { Type, type Static } from 'typebox'
import { FACTORS, IntervalS, LadderDesign, MeasuredValue, RefusalReply, type Factor } from '../../analysis/index.js'

const additionalProperties = false
const positive = (description?: string) => Type.Number({ exclusiveMinimum: 0, ...(description && { description }) })
const { layerHeightUm } = LadderDesign.properties
const exposureS = Type.Number({ exclusiveMinimum: 0, maximum: 999 })
const timeStepS = Type.Optional(
  Type.Number({ minimum: 0.01, description: "the printer's smallest step of layer exposure, s (default: 0.1)" }),
)
const IntervalUm = Type.Tuple([positive(), positive()], { description: '95 % interval, um' })
const Band = Type.Object({ value: Type.Number(), low: Type.Number(), high: Type.Number() })

const Depth = Type.Object({ valueUm: positive(), intervalUm: IntervalUm }, { additionalProperties })

export const LayerHeightRequest = Type.Object(
  {
    toUm: layerHeightUm,
    timeStepS,
    readingIds: Type.Optional(
      Type.Array(Type.String(), {
        minItems: 1,
        maxItems: 8,
        description:
          'readings of ladders of one resin on one printer; the first is carried over, several heights give the depth',
      }),
    ),
    exposureS: Type.Optional(exposureS),
    intervalS: Type.Optional(IntervalS),
    fromUm: Type.Optional(layerHeightUm),
    depth: Type.Optional(Depth),
    printThroughUm: Type.Optional(Type.Number()),
    growthSlopeUm: Type.Optional(Type.Number()),
  },
  {
    additionalProperties,
    description: 'either readings, or exposureS and fromUm; depth overrides that of the reading',
  },
)
export type LayerHeightRequest = Static<typeof LayerHeightRequest>

const RuleAnswer = Type.Object({
  rule: Type.Enum(['bond', 'accumulated']),
  exposureS: Type.Number(),
  intervalS: IntervalS,
  accumulatedDoseRatio: Type.Number({ description: 'accumulated dose over that at the first height' }),
  overcureChangeUm: Type.Number(),
  overcureUm: Type.Optional(Type.Number({ description: 'how far a layer cures beyond its own height' })),
  printThroughUm: Type.Optional(Type.Number()),
  printThroughChangeUm: Type.Number(),
  growthChangeUm: Type.Optional(Type.Number()),
  risk: Type.String(),
})
const LayerRuleFit = Type.Object({
  rule: Type.Enum(['bond', 'accumulated']),
  depthUm: Type.Union([Type.Number(), Type.Null()], { description: 'null: the clearer the better' }),
  depthIntervalUm: Type.Tuple([Type.Number(), Type.Union([Type.Number(), Type.Null()])]),
  exposureS: Type.Number(),
  intervalS: IntervalS,
  chiSquared: Type.Number(),
  agrees: Type.Boolean(),
})
export const LayerHeightReply = Type.Object(
  {
    fromUm: Type.Number(),
    toUm: Type.Number(),
    depth: Depth,
    depthIs: Type.Enum(['known', 'unknown']),
    bond: RuleAnswer,
    accumulated: RuleAnswer,
    bracketS: IntervalS,
    confirmingLadderS: Type.Array(Type.Number()),
    inWords: Type.String(),
    note: Type.Optional(Type.String({ description: 'what could not be told' })),
    ladders: Type.Optional(
      Type.Object(
        { bond: LayerRuleFit, accumulated: LayerRuleFit, exposureS: Type.Number(), intervalS: IntervalS },
        { description: 'both rules fitted through ladders at several layer heights' },
      ),
    ),
    warnings: Type.Array(RefusalReply),
  },
  { $id: 'LayerHeightAnswer' },
)
export type LayerHeightReply = Static<typeof LayerHeightReply>

export const WorkingCurveRequest = Type.Object(
  {
    table: Type.String({ maxLength: 100_000, description: 'two columns as pasted from a spreadsheet' }),
    irradianceMwPerCm2: Type.Optional(positive('turns a column of times into doses')),
    forDepthUm: Type.Optional(positive('a cure depth whose dose is wanted')),
  },
  { additionalProperties },
)
export type WorkingCurveRequest = Static<typeof WorkingCurveRequest>
const IntervalMj = Type.Tuple([Type.Number(), Type.Number()], { description: '95 % interval, mJ/cm2' })
export const WorkingCurveReply = Type.Object(
  {
    columns: Type.String({ description: 'what the columns were taken for' }),
    columnsHold: Type.Object(
      { doses: Type.Enum(['doses', 'times']), depths: Type.Enum(['um', 'mm']) },
      { description: 'the same, for programs' },
    ),
    points: Type.Array(
      Type.Object({
        line: Type.Integer({ description: 'of the table, from 1' }),
        doseMjPerCm2: Type.Number(),
        depthUm: Type.Number(),
        residualUm: Type.Number(),
      }),
    ),
    skipped: Type.Array(
      Type.Object({
        line: Type.Integer(),
        why: Type.Enum(['commas', 'no-numbers', 'not-positive']),
        inWords: Type.String(),
      }),
    ),
    penetrationDepthUm: MeasuredValue,
    penetrationDepthIntervalUm: IntervalUm,
    criticalDoseMjPerCm2: Type.Number(),
    criticalDoseIntervalMjPerCm2: IntervalMj,
    scatterUm: Type.Number({ description: 'standard deviation about the curve' }),
    curvature: Type.Object({
      quadraticUm: Type.Union([MeasuredValue, Type.Null()]),
      verdict: Type.Enum(['straight', 'saturates', 'steepens', 'too-few-doses']),
    }),
    advice: Type.Array(
      Type.Object({
        line: Type.Integer(),
        why: Type.Enum(['soft-gel', 'outlier', 'saturated']),
        inWords: Type.String(),
        withoutIt: Type.Object({ penetrationDepthUm: Type.Number(), criticalDoseMjPerCm2: Type.Number() }),
      }),
      { description: 'points better dropped, most urgent first; none has been' },
    ),
    forDepth: Type.Optional(
      Type.Object({
        depthUm: Type.Number(),
        doseMjPerCm2: Type.Number(),
        intervalMjPerCm2: IntervalMj,
        oneLayerMjPerCm2: IntervalMj,
      }),
    ),
  },
  { $id: 'WorkingCurveAnswer' },
)
export type WorkingCurveReply = Static<typeof WorkingCurveReply>

export const FirstLadderRequest = Type.Object(
  {
    layerHeightUm,
    known: Type.Union([
      Type.Object({ kind: Type.Literal('nothing') }, { additionalProperties }),
      Type.Object({ kind: Type.Literal('setting'), exposureS, layerUm: layerHeightUm }, { additionalProperties }),
      Type.Object(
        {
          kind: Type.Literal('curve'),
          penetrationDepthUm: positive(),
          criticalDoseMjPerCm2: positive(),
          irradianceMwPerCm2: positive(),
        },
        { additionalProperties },
      ),
    ]),
    timeStepS,
    betweenLayersS: Type.Optional(Type.Number({ minimum: 0, description: 'lift, return and rest, s (default: 8)' })),
    baseLayers: Type.Optional(Type.Integer({ minimum: 0, description: 'default: 5' })),
    baseExposureS: Type.Optional(Type.Number({ minimum: 0, description: 's (default: 30)' })),
  },
  { additionalProperties },
)
export type FirstLadderRequest = Static<typeof FirstLadderRequest>
export const FirstLadderReply = Type.Object({
  exposuresS: Type.Array(Type.Number()),
  span: Type.Number({ description: 'highest over lowest' }),
  why: Type.String(),
  printOrder: Type.Array(Type.Integer(), {
    description: 'rungs, from 1, in random order, so that drift cannot pass for an effect of the exposure',
  }),
  printTimesS: Type.Array(Type.Number(), { description: 'of each rung, one print a rung' }),
})
export type FirstLadderReply = Static<typeof FirstLadderReply>

const Irradiance = Type.Object(
  {
    mwPerCm2: positive(),
    relativeUncertainty: Type.Optional(Type.Number({ minimum: 0, maximum: 1, description: 'default: 0.05' })),
  },
  { additionalProperties },
)
export const LampRequest = Type.Object(
  {
    exposureS,
    intervalS: Type.Optional(IntervalS),
    from: Irradiance,
    to: Irradiance,
    reason: Type.Enum(['ageing', 'printer'], { description: 'the same printer later, or another one' }),
  },
  { additionalProperties },
)
export type LampRequest = Static<typeof LampRequest>
export const LampReply = Type.Object({
  exposureS: Type.Number(),
  intervalS: IntervalS,
  doseMjPerCm2: MeasuredValue,
  caution: Type.String(),
})
export type LampReply = Static<typeof LampReply>

export const ExpectedQuery = Type.Object({ exposureS, layerUm: Type.Optional(layerHeightUm) }, { additionalProperties })
export const ExpectedReply = Type.Object(
  {
    equivalentS: Type.Object(Band.properties, {
      description: "exposure that accumulates the same dose at the ladder's own layer height",
    }),
    place: Type.Enum(['within', 'below', 'above'], { description: 'of the rungs; outside, only doses are given' }),
    growthUm: Type.Optional(Band),
    printThroughUm: Type.Optional(Band),
    haze: Type.Optional(Band),
    survival: Type.Array(
      Type.Object({ kind: Type.Enum(['line', 'space']), nominalUm: Type.Number(), chance: Type.Number() }),
    ),
    safeLineUm: Type.Optional(Type.Number()),
    safeSpaceUm: Type.Optional(Type.Number()),
    accumulatedDose: Type.Array(Type.Object({ depthUm: Type.Number(), ...Band.properties }), {
      description: 'dose below the face where a thick part ends, over that of one exposure at its face',
    }),
  },
  { description: 'each value with its 95 % band' },
)
export type ExpectedReply = Static<typeof ExpectedReply>

export const LevelsRequest = Type.Object(
  {
    factor: Type.Enum(Object.keys(FACTORS) as Factor[]),
    from: Type.Number({ minimum: 0, maximum: 9999 }),
    to: Type.Number({ exclusiveMinimum: 0, maximum: 9999 }),
    rungs: Type.Optional(Type.Integer({ minimum: 2, maximum: 8, description: 'default: 6' })),
  },
  { additionalProperties },
)
export type LevelsRequest = Static<typeof LevelsRequest>
export const LevelsReply = Type.Object({
  factor: Type.String(),
  unit: Type.String(),
  levels: Type.Array(Type.String(), { description: 'as the design of a ladder takes them' }),
})
export type LevelsReply = Static<typeof LevelsReply>
