import { Type, type Static } from 'typebox'
import { Remeasure } from './ageing.js'
import { LadderEntry, LadderRecord } from './ladders.js'
import { recordOf, Setting } from './records.js'

/** What the first page shows. */
export const NowReply = Type.Object({
  ladders: Type.Array(LadderEntry, {
    description: 'whose answer is not accepted yet, newest first; no simulated ones',
  }),
  openLadders: Type.Integer({ description: 'how many of these there are' }),
  settings: Type.Array(recordOf(Setting), { description: 'the latest accepted' }),
  last: Type.Optional(LadderRecord),
  demo: Type.Optional(Type.Object({ readingId: Type.String() }, { description: 'a simulated reading to look at' })),
  remeasure: Type.Array(Remeasure, { description: 'ladders whose coupons are due to be photographed again' }),
  waiting: Type.Integer({ description: 'readings queued or under way' }),
})
export type NowReply = Static<typeof NowReply>

export const InvitationReply = Type.Object({
  open: Type.Boolean({ description: 'false: the service answers this machine only' }),
  passphrase: Type.Optional(Type.String()),
  addresses: Type.Array(Type.Object({ url: Type.String(), codeSvg: Type.String({ description: 'QR code as SVG' }) })),
})
export type InvitationReply = Static<typeof InvitationReply>
