import { Type, type Static } from 'typebox'
import {
  ASSUMED,
  FACTORS,
  ProcessFit,
  ProcessOf,
  RefusalReply,
  type AssumedName,
  type Basis,
  type Factor,
} from '../../analysis/index.js'
import { CAUTIONS, type StepName } from '../finish/cautions.js'
import { LANGUAGES, type FinishLanguage } from '../finish/words/finish-words.js'

const additionalProperties = false
const positive = (maximum: number, description?: string) =>
  Type.Number({ exclusiveMinimum: 0, maximum, ...(description && { description }) })
const Range = Type.Tuple([Type.Number(), Type.Number()])
const Cautions = Type.Array(
  Type.Object({
    id: Type.String({ description: 'its row in docs/cautions.md' }),
    title: Type.String(),
    text: Type.String(),
    source: Type.String(),
  }),
)
const Warnings = Type.Array(RefusalReply)
const Assumptions = Type.Array(
  Type.Object({
    what: Type.Enum(Object.keys(ASSUMED) as AssumedName[]),
    value: Type.Number(),
    to: Type.Optional(Type.Number({ description: 'highest, where value is the lowest of a range' })),
    unit: Type.String(),
    basis: Type.Enum(['guess', 'memory', 'practice', 'published'] satisfies Basis[], {
      description:
        'guess: chosen because something had to be; memory: recalled, not read again; practice: usual in the trade, no source; published: docs/finishing.md says where',
    }),
  }),
  { description: 'values the answer took because nobody gave them' },
)
const Language = Type.Enum([...LANGUAGES] satisfies FinishLanguage[], { description: 'of the texts (default: en)' })
const ResinId = Type.String({ maxLength: 40, description: 'record of the resin whose data sheet counts' })

export const StepNameSchema = Type.Enum(Object.keys(CAUTIONS) as StepName[])

export const StepsQuery = Type.Object(
  { language: Type.Optional(Language), resinId: Type.Optional(ResinId) },
  { additionalProperties },
)
const fromSheet = Type.Boolean({
  description: 'from the data sheet of the resin; otherwise common practice, no source',
})
export const StepsReply = Type.Object({
  first: Type.String({ description: 'what comes before all of it' }),
  steps: Type.Array(
    Type.Object({
      name: StepNameSchema,
      title: Type.String(),
      why: Type.String(),
      checks: Type.Array(Type.Object({ id: Type.String(), text: Type.String(), fromSheet })),
      waits: Type.Array(Type.Object({ id: Type.String(), what: Type.String(), minutes: Type.Number(), fromSheet })),
      measure: Type.Array(Type.String()),
      cautions: Cautions,
    }),
  ),
})
export type StepsReply = Static<typeof StepsReply>

export const PostCureBody = Type.Object(
  {
    lamp: Type.Object(
      {
        irradianceMwPerCm2: Type.Optional(positive(5000, 'at the part, measured')),
        powerW: Type.Optional(positive(5000, 'electric; the irradiance is then a guess')),
      },
      { additionalProperties, description: 'one or both' },
    ),
    wanted: Type.Union([
      Type.Object(
        { kind: Type.Literal('dose'), doseJPerCm2: positive(10_000, 'radiant exposure at each face') },
        { additionalProperties },
      ),
      Type.Object(
        { kind: Type.Literal('time'), minutes: positive(600, 'light on each face, under this lamp') },
        { additionalProperties },
      ),
      Type.Object(
        {
          kind: Type.Literal('other-lamp'),
          minutes: positive(600, 'light on each face, under the lamp it was given for'),
          powerW: positive(5000, 'of that lamp'),
        },
        { additionalProperties },
      ),
    ]),
    thicknessMm: positive(200),
    surroundings: Type.Enum(['still-air', 'fan', 'water']),
    surroundingsC: Type.Number({ minimum: 0, maximum: 80 }),
    bothSides: Type.Boolean({ description: 'the lamp reaches both faces at once' }),
    limitC: Type.Optional(positive(150, 'hottest the part may get (default: 60)')),
    penetrationMm: Type.Optional(positive(1000, '1/e depth of the light in cured resin (default: 1.5, a guess)')),
    exothermJPerCm3: Type.Optional(Type.Number({ minimum: 0, maximum: 500 })),
  },
  { additionalProperties },
)
export type PostCureBody = Static<typeof PostCureBody>

const Stage = Type.Object({
  onS: Type.Number(),
  restS: Type.Number(),
  side: Type.Enum(['front', 'back', 'both']),
})
export const PostCureReply = Type.Object(
  {
    irradianceMwPerCm2: Type.Number({ description: 'used for the temperature' }),
    doseJPerCm2: Type.Number({ description: 'at each face' }),
    stages: Type.Array(Stage),
    lightS: Type.Number({ description: 'on each face' }),
    totalS: Type.Number(),
    peakC: Type.Number({ description: 'hottest place, by conduction' }),
    lumpedPeakC: Type.Number({ description: 'with the part as one lump' }),
    biot: Type.Number(),
    trusted: Type.Enum(['lumped', 'conduction']),
    limitC: Type.Number(),
    curve: Type.Array(
      Type.Object({
        timeS: Type.Number(),
        hottestC: Type.Number(),
        lumpedC: Type.Number(),
        frontDoseJPerCm2: Type.Number(),
      }),
    ),
    doseAtDepth: Type.Array(
      Type.Object({
        depthMm: Type.Number(),
        fromFrontJPerCm2: Type.Number(),
        fromBackJPerCm2: Type.Number(),
        bothJPerCm2: Type.Number(),
      }),
    ),
    middleShare: Type.Number({ description: 'dose in the middle over that at the faces' }),
    assumed: Assumptions,
    warnings: Warnings,
    cautions: Cautions,
  },
  { $id: 'PostCureAnswer' },
)
export type PostCureReply = Static<typeof PostCureReply>

const refractiveIndex = (description: string) => Type.Optional(Type.Number({ minimum: 1.2, maximum: 2, description }))
export const SmoothBody = Type.Object(
  {
    layerUm: positive(500),
    wallDegrees: Type.Number({ minimum: 0, maximum: 90, description: 'between wall and build plate' }),
    pixelUm: Type.Optional(positive(200)),
    scale: Type.Enum(['P', 'JIS']),
    ratio: Type.Optional(Type.Number({ minimum: 1.1, maximum: 4, description: 'grain over the next (default: 2)' })),
    index: refractiveIndex('of the cured resin (default: 1.52)'),
    coatIndex: refractiveIndex('of the coat that follows; absent: left bare'),
    acceptedHaze: Type.Optional(Type.Number({ minimum: 0.001, maximum: 0.9, description: 'default: 0.05' })),
  },
  { additionalProperties },
)
export type SmoothBody = Static<typeof SmoothBody>

const BareAndCoated = Type.Object({ bare: Range, coated: Range })
export const SmoothReply = Type.Object(
  {
    step: Type.Object({
      heightUm: Type.Number(),
      raUm: Type.Number(),
      rqUm: Type.Number(),
      periodUm: Type.Optional(Type.Number()),
      from: Type.Enum(['layers', 'pixels']),
    }),
    layersPerMm: Type.Number(),
    steps: Type.Array(
      Type.Object({
        name: Type.String({ description: 'with its scale: P 800, JIS #4000' }),
        grainUm: Type.Number(),
        stockUm: Type.Intersect([Range], { description: 'to take off with it, um' }),
        marksUm: Type.Intersect([Range], { description: 'depth of the marks it leaves, um' }),
        rmsUm: Range,
        bareHaze: Range,
        coatedHaze: Type.Optional(Range),
      }),
    ),
    stopAfter: Type.Optional(Type.Integer({ description: 'place in steps, from 0' })),
    gain: Type.Optional(
      Type.Object({
        transmittance: Type.Object({ bare: Type.Number(), coated: Type.Number() }),
        haze: BareAndCoated,
      }),
    ),
    assumed: Assumptions,
    warnings: Warnings,
    cautions: Cautions,
  },
  { $id: 'SmoothAnswer' },
)
export type SmoothReply = Static<typeof SmoothReply>

export const PrepareBody = Type.Object(
  {
    resinC: Type.Number({ minimum: -20, maximum: 80 }),
    viscosityMPaS: Type.Optional(positive(100_000, 'from the data sheet')),
    viscosityAtC: Type.Optional(Type.Number({ minimum: 0, maximum: 80, description: 'default: 25' })),
    depthMm: Type.Optional(positive(1000, 'height of the resin (default: 100)')),
    bubbleUm: Type.Optional(positive(5000, 'smallest bubble that must leave (default: 300, a guess)')),
    windowC: Type.Optional(
      Type.Tuple([Type.Number({ minimum: 0, maximum: 80 }), Type.Number({ minimum: 0, maximum: 80 })], {
        description: 'temperatures the resin is printed at (default: 20 to 35, common practice)',
      }),
    ),
  },
  { additionalProperties },
)
export type PrepareBody = Static<typeof PrepareBody>
export const PrepareReply = Type.Object(
  {
    viscosityRatio: Range,
    bestC: Type.Number(),
    standMin: Type.Optional(Range),
    standWarmMin: Type.Optional(Range),
    assumed: Assumptions,
    warnings: Warnings,
    cautions: Cautions,
  },
  { $id: 'PrepareAnswer' },
)
export type PrepareReply = Static<typeof PrepareReply>

export const ProcessLadderBody = Type.Object(
  {
    factor: Type.Enum(Object.keys(FACTORS) as Factor[]),
    of: Type.Intersect([ProcessOf], { description: 'the response' }),
    coupons: Type.Array(
      Type.Object(
        {
          readingId: Type.String(),
          slot: Type.Integer({ minimum: 1 }),
          level: Type.String({ minLength: 1, maxLength: 60, description: 'a number in the unit, or a name' }),
        },
        { additionalProperties },
      ),
      { minItems: 2, maxItems: 200, description: 'in the order of the process' },
    ),
  },
  { additionalProperties },
)
export const ProcessLadderReply = Type.Object(
  { factor: Type.String(), of: ProcessOf, unit: Type.String(), ...ProcessFit.properties },
  { $id: 'ProcessLadderAnswer' },
)
export type ProcessLadderReply = Static<typeof ProcessLadderReply>

export const TravellerBody = Type.Object(
  {
    part: Type.String({ minLength: 1, maxLength: 60 }),
    resin: Type.Optional(Type.String({ maxLength: 60, description: 'bottle or batch, as it is to be printed' })),
    resinId: Type.Optional(ResinId),
    language: Type.Optional(Language),
    paper: Type.Optional(Type.Enum(['a4', 'letter'])),
    steps: Type.Array(
      Type.Object(
        {
          name: StepNameSchema,
          minutes: Type.Optional(
            Type.Number({ minimum: 0, maximum: 100_000, description: 'default: the usual waits' }),
          ),
          notes: Type.Optional(Type.Array(Type.String({ maxLength: 120 }), { maxItems: 8 })),
        },
        { additionalProperties },
      ),
      { minItems: 1, maxItems: 12 },
    ),
  },
  { additionalProperties },
)
export type TravellerBody = Static<typeof TravellerBody>
