import { Type, type Static } from 'typebox'
import { Reason } from './common.js'
import { StartReport } from './start-report.js'

export const Health = Type.Object({
  status: Type.Union([Type.Literal('ok'), Type.Literal('impaired')], {
    description: 'impaired: what is stored can be looked at, but something has to be mended',
  }),
  readingsWaiting: Type.Integer({ minimum: 0, description: 'readings queued or under way' }),
  trouble: Type.Optional(Reason),
  started: StartReport,
  startedInWords: Type.Array(Type.String(), { description: 'the same in words; empty when there was nothing to do' }),
})
export type Health = Static<typeof Health>
