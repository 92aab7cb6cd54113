import { Type, type Static } from 'typebox'
import { ProcessResponse } from '../../analysis/index.js'

export const AgeingReply = Type.Object(
  {
    photos: Type.Array(
      Type.Object({
        readingId: Type.String(),
        date: Type.String({ description: 'ISO 8601, UTC: when the photograph came in' }),
        days: Type.Number({ description: 'since the first' }),
      }),
    ),
    responses: Type.Array(
      Type.Intersect([
        ProcessResponse,
        Type.Object({
          points: Type.Array(
            Type.Object({
              slot: Type.Integer(),
              days: Type.Number(),
              value: Type.Number(),
              standardUncertainty: Type.Number(),
            }),
          ),
        }),
      ]),
    ),
  },
  { $id: 'Ageing' },
)
export type AgeingReply = Static<typeof AgeingReply>

export const Remeasure = Type.Object({
  ladderId: Type.String(),
  bottle: Type.Optional(Type.String()),
  dueOn: Type.String({ description: 'day, ISO 8601' }),
  afterDays: Type.Integer({ description: 'since the first photograph' }),
})
export type Remeasure = Static<typeof Remeasure>
