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

export const IntervalS = Type.Tuple([Type.Number(), Type.Number()], { description: '95 % interval, s' })

/** A place in the upright photograph: column, row, in pixels; the centre of the top left pixel is (0, 0). */
export const PointPx = Type.Tuple([Type.Number(), Type.Number()])
export type PointPx = Static<typeof PointPx>
