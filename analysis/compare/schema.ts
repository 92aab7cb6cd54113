import { Type, type Static } from 'typebox'
import { MeasuredValue, RefusalReply } from '../result.js'

const label = (description: string) => Type.Optional(Type.String({ minLength: 1, maxLength: 60, description }))

export const CouponLabels = Type.Object(
  {
    bottle: label('bottle the resin came from'),
    batch: label("the maker's batch"),
    printer: label('printer'),
    postCure: label('post-cure, such as 10 min in water'),
    finish: label('finish, such as as printed, 2000 grit, coated'),
  },
  { additionalProperties: false, description: 'what coupons are compared by' },
)
export type CouponLabels = Static<typeof CouponLabels>

export const CompareBy = Type.Enum([
  ...(['bottle', 'batch', 'printer', 'exposure', 'post-cure', 'finish', 'ladder', 'level'] as const),
])
export type CompareBy = Static<typeof CompareBy>

export const CompareOf = Type.Enum(['haze', 'surface', 'yellowness', 'score'])
export type CompareOf = Static<typeof CompareOf>

export const CompareOptions = Type.Object(
  {
    by: CompareBy,
    of: Type.Optional(CompareOf),
    exposureS: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'only coupons of this exposure, s (default: all)' }),
    ),
    power: Type.Optional(
      Type.Number({
        minimum: 0.5,
        maximum: 0.99,
        description: 'chance with which a difference shall show (default: 0.8)',
      }),
    ),
    wantedDifference: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, description: 'a difference that matters; tells the coupons it needs' }),
    ),
  },
  { additionalProperties: false },
)
export type CompareOptions = Static<typeof CompareOptions>

const Interval = Type.Tuple([Type.Number(), Type.Number()])
const EstimateReply = Type.Intersect([
  MeasuredValue,
  Type.Object({
    degreesOfFreedom: Type.Optional(Type.Number({ description: 'absent: infinite' })),
    interval: Type.Intersect([Interval], { description: '95 %' }),
  }),
])

const Chart = Type.Object({
  group: Type.String(),
  points: Type.Array(Type.Object({ date: Type.String(), photo: Type.String(), value: Type.Number() })),
  centre: Type.Number(),
  sigma: Type.Number({ description: 'standard deviation of one point' }),
  baseline: Type.Integer({ description: 'how many first points the limits come from' }),
  limits: Type.Intersect([Interval], { description: 'of single points, three standard deviations' }),
  out: Type.Array(Type.Integer(), { description: 'places outside, from 0' }),
  ewma: Type.Object({
    lambda: Type.Number(),
    values: Type.Array(Type.Number()),
    limits: Type.Array(Interval),
    out: Type.Array(Type.Integer()),
  }),
  change: Type.Optional(
    Type.Object(
      {
        after: Type.String({ description: 'date of the last point before the change' }),
        between: Type.Tuple([Type.String(), Type.String()], { description: '95 %, approximate' }),
        change: MeasuredValue,
        pAtMost: Type.Number(),
      },
      { description: 'the moment of change, where there is more than noise' },
    ),
  ),
  inWords: Type.String(),
})

export const Comparison = Type.Object(
  {
    schema: Type.Literal('stepglass-comparison-1'),
    by: CompareBy,
    of: CompareOf,
    power: Type.Number(),
    wantedDifference: Type.Optional(Type.Number()),
    method: Type.Enum(['welch', 'pooled', 'mixed', 'stated']),
    methodInWords: Type.String(),
    groups: Type.Array(
      Type.Object({
        group: Type.String(),
        coupons: Type.Integer(),
        photos: Type.Integer(),
        mean: EstimateReply,
        values: Type.Array(
          Type.Object({
            photo: Type.String(),
            ladderId: Type.String(),
            slot: Type.Integer(),
            exposureS: Type.Number(),
            ...MeasuredValue.properties,
          }),
        ),
      }),
    ),
    differences: Type.Array(
      Type.Object({
        first: Type.String(),
        second: Type.String(),
        difference: Type.Intersect([EstimateReply], {
          description: 'second less first; all intervals of the comparison hold together with 95 %',
        }),
        pAdjusted: Type.Number({ description: 'adjusted for the number of groups' }),
        differs: Type.Boolean(),
        smallestDetectable: Type.Number({ description: 'true difference that shows with the chance `power`' }),
        couponsNeeded: Type.Optional(
          Type.Union([Type.Integer(), Type.Null()], {
            description: 'of each group, to show the wanted difference; null: coupons alone cannot',
          }),
        ),
        inWords: Type.String(),
      }),
    ),
    sources: Type.Array(
      Type.Object({ source: Type.Enum(['photo', 'bottle', 'coupon', 'rest']), standardDeviation: Type.Number() }),
      { description: 'of scatter, where they could be told apart' },
    ),
    overTime: Type.Array(Chart),
    notes: Type.Array(RefusalReply),
  },
  { $id: 'Comparison' },
)
/** What coupons of several groups say together. */
export type Comparison = Static<typeof Comparison>
export type ComparisonChart = Comparison['overTime'][number]
