import { Type, type Static } from 'typebox'
import { FACTORS, type Factor } from '../layout/factors.js'
import { MeasuredValue, RefusalReply } from '../result/parts.js'

const Range = Type.Tuple([Type.Number(), Type.Number()])
const Spread = Type.Object({ value: Type.Number(), interval: Range }, { description: 'with its 95 % interval' })
const Difference = { interval: Range, told: Type.Boolean({ description: 'true: the 95 % interval leaves out 0' }) }

export const ProcessOf = Type.Enum(['haze', 'yellownessPerMm', 'growthUm'])
export type ProcessOf = Static<typeof ProcessOf>

/** What one response says of what was varied: exactly one of `saturating`, `steps` and `line`. */
const fits = {
  verdict: Type.Enum(['falls', 'rises', 'falls-and-rises', 'no-change'], { description: 'at 95 %' }),
  saturating: Type.Optional(
    Type.Object(
      {
        start: MeasuredValue,
        change: MeasuredValue,
        scale: Spread,
        enough: Spread,
        reached: Type.Boolean({ description: 'false: the coupons do not reach the end of the interval of enough' }),
        scatter: Type.Number(),
      },
      { description: 'start + change (1 - exp(-amount / scale)); enough: least amount at 95 % of the change' },
    ),
  ),
  steps: Type.Optional(
    Type.Object({
      means: Type.Array(Type.Object({ level: Type.String(), coupons: Type.Integer(), mean: MeasuredValue })),
      differences: Type.Array(
        Type.Object({ from: Type.String(), to: Type.String(), difference: MeasuredValue, ...Difference }),
        { description: 'each level less the one before' },
      ),
      best: Type.Optional(
        Type.String({ description: 'last level that is shown to be lower than the best before it; absent: none is' }),
      ),
    }),
  ),
  line: Type.Optional(Type.Object({ slope: MeasuredValue, ...Difference }, { description: 'change per unit' })),
  noPlateau: Type.Optional(
    Type.Intersect([RefusalReply], {
      description: 'why there is a line where a response that levels off was looked for',
    }),
  ),
  curve: Type.Optional(
    Type.Array(Type.Object({ amount: Type.Number(), value: Type.Number(), low: Type.Number(), high: Type.Number() }), {
      description: 'for drawing, with its 95 % band',
    }),
  ),
}
export const ProcessFit = Type.Object(fits)
export type ProcessFit = Static<typeof ProcessFit>

export const ProcessResponse = Type.Object({ of: ProcessOf, ...fits })
export type ProcessResponse = Static<typeof ProcessResponse>

export const ProcessSuggestion = Type.Object({
  level: Type.String({ description: "in the factor's unit" }),
  interval: Type.Optional(Range),
  by: Type.Intersect([ProcessOf], { description: 'response that decides' }),
  rule: Type.Enum(['plateau', 'last-step'], {
    description:
      'plateau: least amount at 95 % of what there is to win; last-step: last level at which the coupons show a gain',
  }),
  reached: Type.Boolean({
    description: 'false: no coupon was read at the end of the interval or, of last-step, beyond the level',
  }),
  costs: Type.Array(ProcessOf, { description: 'responses that rise: no more of it than needed' }),
})
export type ProcessSuggestion = Static<typeof ProcessSuggestion>

export const ProcessConclusion = Type.Object(
  {
    factor: Type.Enum(Object.keys(FACTORS) as Factor[]),
    unit: Type.String(),
    responses: Type.Array(ProcessResponse),
    suggestion: Type.Optional(ProcessSuggestion),
    noSuggestion: Type.Optional(RefusalReply),
    nextLevels: Type.Optional(Type.Array(Type.String(), { description: 'levels that would tell more' })),
  },
  { description: 'of a ladder whose rungs differ in something else than exposure, in place of the dose response' },
)
export type ProcessConclusion = Static<typeof ProcessConclusion>
