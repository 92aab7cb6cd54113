import { Type, type Static } from 'typebox'
import { Reason } from './common.js'

const count = (description: string) => Type.Integer({ minimum: 0, description })

/** What the last start found in the data folder, and what it did about it. */
export const StartReport = Type.Object({
  updatedFrom: Type.Optional(Type.Integer({ description: 'version the database had before' })),
  copyBefore: Type.Optional(Type.String({ description: 'file with the database as that version left it' })),
  takenUpAgain: count('readings that were under way when the service ended, and are queued again'),
  givenUp: count('readings under way each time the service ended, and not tried again'),
  cutOffRemoved: count('uploads that had not arrived whole'),
  setAside: count('files of photos/ that are in no record, moved to unclaimed/'),
  putBack: count('photographs on record, moved back from unclaimed/'),
  unfinishedRemoved: count('previews and keys that were half made'),
  missing: Type.Array(Type.String(), { description: 'files of photographs on record that are gone' }),
  database: Type.Union([Type.Literal('sound'), Type.Literal('damaged'), Type.Literal('not-checked')], {
    description: 'not-checked: too large to be checked at each start; each backup checks it',
  }),
  trouble: Type.Optional(Reason),
})
export type StartReport = Static<typeof StartReport>
