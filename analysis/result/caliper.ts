import { Type, type Static } from 'typebox'
import { MeasuredValue } from './parts.js'
import { GrowthValue, UncertaintyTerm } from './rung.js'

export const CaliperTab = Type.Object(
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
