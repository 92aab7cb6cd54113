import { Type, type Static } from 'typebox'

/** A measured value with its standard uncertainty (k = 1), in the unit its field's name gives. */
export const MeasuredValue = Type.Object({ value: Type.Number(), standardUncertainty: Type.Number({ minimum: 0 }) })
export type MeasuredValue = Static<typeof MeasuredValue>

export const RefusalReply = Type.Object({
  code: Type.String({ description: 'stable name of the reason, for programs' }),
  advice: Type.String({ description: 'what to do next, for people' }),
  detail: Type.Optional(Type.String({ description: 'what was found against which limit' })),
})
export type RefusalReply = Static<typeof RefusalReply>
