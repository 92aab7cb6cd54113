import { Type, type Static } from 'typebox'
import { LadderRecord } from './ladders.js'
import { LeftOut, ReadingOptions } from './readings.js'
import { recordKinds, type RecordKind } from './records.js'
import { KnownKey, SettingSheet } from './sheets.js'

const additionalProperties = false
const time = Type.String({ description: 'ISO 8601, UTC' })
const id = Type.String({ minLength: 1, maxLength: 64 })
const photoId = Type.String({ pattern: '^[0-9a-f]{64}$' })

const record = <Kind extends RecordKind>(kind: Kind) =>
  Type.Object(
    {
      kind: Type.Literal(kind),
      recordId: id,
      createdAt: time,
      changedAt: time,
      archivedAt: Type.Optional(time),
      content: recordKinds[kind],
      earlier: Type.Array(
        Type.Object({ content: recordKinds[kind], archivedAt: Type.Optional(time), changedAt: time }),
        { description: 'what it was before each change, oldest first' },
      ),
    },
    { additionalProperties },
  )

/** The file `stepglass.json` of an archive. Beside it lie `photos/` and `readings/`, a file each. */
export const ArchiveContents = Type.Object(
  {
    schema: Type.Literal('stepglass-archive-1'),
    exportedAt: time,
    records: Type.Array(Type.Union([record('resin'), record('bottle'), record('printer'), record('setting')])),
    ladders: Type.Array(LadderRecord),
    photos: Type.Array(
      Type.Object(
        {
          photoId,
          extension: Type.String({ pattern: '^[a-z]{3,5}$' }),
          name: Type.String({ maxLength: 200 }),
          bytes: Type.Integer({ minimum: 1 }),
          simulated: Type.Boolean(),
          createdAt: time,
        },
        { additionalProperties },
      ),
    ),
    readings: Type.Array(
      Type.Object(
        {
          readingId: id,
          photoId,
          options: ReadingOptions,
          createdAt: time,
          finishedAt: Type.Optional(time),
          hasResult: Type.Boolean({ description: 'true: the file readings/<readingId>.json holds it' }),
        },
        { additionalProperties },
      ),
      { description: 'oldest first' },
    ),
    leftOut: Type.Array(
      Type.Object({ photoId, ...LeftOut.properties, liftedAt: Type.Optional(time) }, { additionalProperties }),
    ),
    sheets: Type.Optional(
      Type.Array(Type.Object({ settingId: id, createdAt: time, sheet: SettingSheet }, { additionalProperties }), {
        description: 'as they were handed on or taken in; links to them stay behind',
      }),
    ),
    knownKeys: Type.Optional(Type.Array(KnownKey)),
  },
  { $id: 'ArchiveContents', additionalProperties },
)
export type ArchiveContents = Static<typeof ArchiveContents>

const counts = Type.Object({
  records: Type.Integer(),
  ladders: Type.Integer(),
  photos: Type.Integer(),
  readings: Type.Integer(),
})
export const ImportReply = Type.Object({
  added: counts,
  alreadyThere: Type.Intersect([counts], { description: 'kept as they are here' }),
})
export type ImportReply = Static<typeof ImportReply>
