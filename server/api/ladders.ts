import { Type, type Static } from 'typebox'
import { CouponLabels, LadderDesign } from '../../analysis/index.js'
import { ReadingSummary } from './readings.js'
import { ListQuery } from './records.js'

export type { LadderDesign } from '../../analysis/index.js'

const { layerHeightUm, pixelPitchUm, exposuresS, factor, levels } = LadderDesign.properties

export const LadderFacts = Type.Object(
  {
    bottleId: Type.Optional(Type.String({ maxLength: 40, description: 'record of the bottle' })),
    printerId: Type.Optional(Type.String({ maxLength: 40, description: 'record of the printer' })),
    temperatureC: Type.Optional(Type.Number({ minimum: -20, maximum: 100, description: 'of the resin' })),
    timeStepS: Type.Optional(Type.Number({ minimum: 0.01, maximum: 60 })),
    turnedSlots: Type.Optional(
      Type.Array(Type.Integer({ minimum: 1, maximum: 8 }), { description: 'coupons printed turned by 90 degrees' }),
    ),
    steps: Type.Optional(
      Type.Array(Type.String({ maxLength: 30 }), { maxItems: 30, description: 'what is ticked off the checklist' }),
    ),
    remeasure: Type.Optional(
      Type.Boolean({ description: 'photograph these coupons again after a day, a month and half a year' }),
    ),
    note: Type.Optional(Type.String({ maxLength: 2000 })),
  },
  { additionalProperties: false, description: 'what is known of a ladder besides its design' },
)
export type LadderFacts = Static<typeof LadderFacts>

export const PlanRequest = Type.Object(
  {
    layerHeightUm,
    pixelPitchUm,
    facts: Type.Optional(LadderFacts),
    exposuresS: Type.Optional(exposuresS),
    factor,
    levels,
    range: Type.Optional(
      Type.Object(
        {
          fromS: Type.Number({ exclusiveMinimum: 0, maximum: 999 }),
          toS: Type.Number({ exclusiveMinimum: 0, maximum: 999 }),
          rungs: Type.Integer({ minimum: 2, maximum: 8 }),
          timeStepS: Type.Number({ minimum: 0.01, description: "the printer's smallest step of layer exposure, s" }),
        },
        { additionalProperties: false, description: 'exposures in equal ratios from one end to the other' },
      ),
    ),
  },
  {
    additionalProperties: false,
    description:
      'either the exposures themselves or the range they shall cover; with a factor one exposure and the levels',
  },
)
export type PlanRequest = Static<typeof PlanRequest>

export const LadderRecord = Type.Object({
  design: LadderDesign,
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  labels: Type.Optional(CouponLabels),
  facts: LadderFacts,
  origin: Type.Enum(['planned', 'card'], { description: 'planned here, or known from the code on its card' }),
  archivedAt: Type.Optional(Type.String({ description: 'put away since' })),
})
export type LadderRecord = Static<typeof LadderRecord>

export const NextStep = Type.Enum(
  ['print', 'photograph', 'wait', 'read-again', 'photograph-again', 'accept', 'print-next', 'done'],
  { description: 'what to do with a ladder next' },
)
export type NextStep = Static<typeof NextStep>

export const LadderEntry = Type.Object({
  ...LadderRecord.properties,
  next: NextStep,
  simulated: Type.Boolean({ description: 'true: its newest photograph is a simulation' }),
  latest: Type.Optional(ReadingSummary),
  bottle: Type.Optional(Type.String({ description: 'name of its bottle' })),
  printer: Type.Optional(Type.String({ description: 'name of its printer' })),
})
export type LadderEntry = Static<typeof LadderEntry>

export const LadderList = Type.Object({
  total: Type.Integer({ minimum: 0 }),
  ladders: Type.Array(LadderEntry, { description: 'newest first' }),
})
export type LadderList = Static<typeof LadderList>

export const LadderListQuery = Type.Object(
  {
    ...ListQuery.properties,
    open: Type.Optional(Type.Boolean({ description: 'true: only those whose answer was not accepted yet' })),
    origin: Type.Optional(LadderRecord.properties.origin),
    simulated: Type.Optional(Type.Boolean({ description: 'false: without those known from simulated photographs' })),
  },
  { additionalProperties: false },
)
export type LadderListQuery = Static<typeof LadderListQuery>

/** How a ladder is printed. */
export const LadderPlan = Type.Object({
  order: Type.Array(
    Type.Object({ slot: Type.Integer(), exposureS: Type.Number(), rung: Type.String(), printS: Type.Number() }),
    {
      description: 'slots in the order to print them in, drawn at random, with the time of each print',
    },
  ),
  totalS: Type.Number({ description: 'of all prints, handling not counted' }),
})
export type LadderPlan = Static<typeof LadderPlan>

const labelText = () => Type.Optional(Type.String({ maxLength: 60 }))
/** Changes of a ladder. A label left out keeps, an empty one is taken away; facts take the place of those before. */
export const LadderPatch = Type.Object(
  {
    facts: Type.Optional(LadderFacts),
    archived: Type.Optional(Type.Boolean()),
    labels: Type.Optional(
      Type.Object(
        Object.fromEntries(Object.keys(CouponLabels.properties).map((name) => [name, labelText()])) as Record<
          keyof CouponLabels,
          ReturnType<typeof labelText>
        >,
        { additionalProperties: false },
      ),
    ),
  },
  { additionalProperties: false },
)
export type LadderPatch = Static<typeof LadderPatch>
export const LadderParams = Type.Object({ ladderId: LadderDesign.properties.ladderId })

const additionalProperties = false
/** Cards are printed in today's edition. */
const design = Type.Omit(LadderDesign, ['cardEdition']).properties
const paper = Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' }))
const slot = Type.Integer({ minimum: 1, maximum: 8 })

/** A design in the query of an address: `exposuresS` is repeated, once a rung, in slot order. */
export const DesignQuery = Type.Object(design, { additionalProperties })
export const CardQuery = Type.Object({ ...design, paper }, { additionalProperties })
export const CouponQuery = Type.Object({ ...design, slot }, { additionalProperties })
