import { Type, type Static } from 'typebox'
import { CouponLabels, LadderDesign } from '../../analysis/index.js'

export type { LadderDesign } from '../../analysis/index.js'

const { layerHeightUm, pixelPitchUm, exposuresS } = LadderDesign.properties

export const PlanRequest = Type.Object(
  {
    layerHeightUm,
    pixelPitchUm,
    exposuresS: Type.Optional(exposuresS),
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
  { additionalProperties: false, description: 'either the exposures themselves or the range they shall cover' },
)
export type PlanRequest = Static<typeof PlanRequest>

export const LadderRecord = Type.Object({
  design: LadderDesign,
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  labels: Type.Optional(CouponLabels),
})
export type LadderRecord = Static<typeof LadderRecord>

export const LadderList = Type.Object({ ladders: Type.Array(LadderRecord, { description: 'newest first' }) })
export type LadderList = Static<typeof LadderList>

const labelText = () => Type.Optional(Type.String({ maxLength: 60 }))
/** New labels of a ladder; one left out keeps, an empty one is taken away. */
export const LadderPatch = Type.Object(
  {
    labels: Type.Object(
      Object.fromEntries(Object.keys(CouponLabels.properties).map((name) => [name, labelText()])) as Record<
        keyof CouponLabels,
        ReturnType<typeof labelText>
      >,
      { additionalProperties: false },
    ),
  },
  { additionalProperties: false },
)
export const LadderParams = Type.Object({ ladderId: LadderDesign.properties.ladderId })

const additionalProperties = false
const design = LadderDesign.properties
const paper = Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' }))
const slot = Type.Integer({ minimum: 1, maximum: 8 })

/** A design in the query of an address: `exposuresS` is repeated, once a rung, in slot order. */
export const DesignQuery = Type.Object(design, { additionalProperties })
export const CardQuery = Type.Object({ ...design, paper }, { additionalProperties })
export const CouponQuery = Type.Object({ ...design, slot }, { additionalProperties })
