import { Type, type Static } from 'typebox'
import {
  CombinedLadder,
  LadderDesign,
  LadderReading,
  MeasureOptions,
  NoSuggestion,
  ProcessConclusion,
  RefusalReply,
  Suggestion,
} from '../../analysis/index.js'
import { ErrorReply } from './common.js'

export type {
  CombinedRung,
  GapReading,
  GratingReading,
  IsolatedReading,
  LadderReading,
  MeasuredValue,
  PointPx,
  ReadLadder,
  ReadRung,
  RefusalReply,
  RefusedLadder,
  RefusedRung,
  Rung,
} from '../../analysis/index.js'

/** What one may ask of a reading. The service always keeps the profiles. */
export const ReadingOptions = Type.Partial(Type.Omit(MeasureOptions, ['keepProfiles']), {
  additionalProperties: false,
})
export type ReadingOptions = Static<typeof ReadingOptions>

export type StoredReadingState = 'queued' | 'reading' | 'done' | 'failed'
export const ReadingState = Type.Enum(['queued', 'reading', 'done', 'failed', 'outdated'], {
  description:
    'done: there is a result, which may be a refusal; failed: the reader itself broke off; outdated: another version of the program made the result, read the photograph again',
})
export type ReadingState = Static<typeof ReadingState>

export const StageName = Type.Enum(['decode', 'find-card', 'tone', 'coupons', 'fit'])

export const ReadingOutcome = Type.Object(
  {
    design: Type.Optional(LadderDesign),
    rungsRead: Type.Integer(),
    rungsRefused: Type.Integer(),
    suggestion: Type.Optional(Suggestion),
    noSuggestion: Type.Optional(NoSuggestion),
    process: Type.Optional(Type.Omit(ProcessConclusion, ['responses'])),
    refusal: Type.Optional(RefusalReply),
  },
  { description: 'the result in short' },
)
export type ReadingOutcome = Static<typeof ReadingOutcome>

const common = {
  readingId: Type.String(),
  photoId: Type.String({ description: 'SHA-256 of the photograph' }),
  photoName: Type.String({ description: "the photograph's file name when it was uploaded" }),
  simulated: Type.Boolean({ description: 'true: the photograph is a simulation that came with the program' }),
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
  finishedAt: Type.Optional(Type.String({ description: 'ISO 8601, UTC' })),
  options: ReadingOptions,
  state: ReadingState,
  failure: Type.Optional(ErrorReply),
}
export const ReadingSummary = Type.Object({ ...common, outcome: Type.Optional(ReadingOutcome) })
export type ReadingSummary = Static<typeof ReadingSummary>

export const LeftOut = Type.Object({
  slot: Type.Integer({ minimum: 1 }),
  reason: Type.String(),
  createdAt: Type.String({ description: 'ISO 8601, UTC' }),
})
export type LeftOut = Static<typeof LeftOut>

export const ReadingReply = Type.Object({
  ...common,
  result: Type.Optional(LadderReading),
  leftOut: Type.Array(LeftOut, {
    description: 'coupons that someone took out of the answer: shown as measured, but nothing is concluded from them',
  }),
})
export type ReadingReply = Static<typeof ReadingReply>

export const ReadingList = Type.Object({
  total: Type.Integer({ minimum: 0 }),
  readings: Type.Array(ReadingSummary, { description: 'newest first' }),
})
export type ReadingList = Static<typeof ReadingList>

export const CombinedReply = Type.Object({
  readings: Type.Array(Type.Object({ ...common, used: Type.Boolean({ description: 'false: left out' }) }), {
    description: 'one a photograph, the newest reading of each, oldest first',
  }),
  combined: Type.Optional(CombinedLadder),
  refusal: Type.Optional(RefusalReply),
})
export type CombinedReply = Static<typeof CombinedReply>

export const CombinedParams = Type.Object({ ladderId: LadderDesign.properties.ladderId })
export const CombinedQuery = Type.Object(
  {
    without: Type.Optional(
      Type.Array(Type.String({ pattern: '^[0-9a-f]{64}$' }), { description: 'photographs to leave out, repeated' }),
    ),
  },
  { additionalProperties: false },
)

export const ReadingListQuery = Type.Object(
  {
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 100 })),
    offset: Type.Optional(Type.Integer({ minimum: 0, default: 0 })),
    ladderId: Type.Optional(LadderDesign.properties.ladderId),
  },
  { additionalProperties: false },
)

export const Waiting = Type.Object(
  {
    ahead: Type.Integer({ minimum: 0, description: 'photographs that are read before this one' }),
    estimatedS: Type.Integer({
      minimum: 0,
      description: 'until this one is read, going by how long the last ones took',
    }),
  },
  { description: 'how long until it is read' },
)
export type Waiting = Static<typeof Waiting>

/** One event of a reading's progress. */
export const ReadingProgress = Type.Object({
  state: ReadingState,
  stage: Type.Optional(StageName),
  share: Type.Number({ minimum: 0, maximum: 1, description: 'of the work done' }),
  waiting: Type.Optional(Waiting),
  failure: Type.Optional(ErrorReply),
})
export type ReadingProgress = Static<typeof ReadingProgress>

export const PhotoAccepted = Type.Object({
  photoId: Type.String(),
  readingId: Type.String(),
  waiting: Type.Optional(Waiting),
})
export type PhotoAccepted = Static<typeof PhotoAccepted>

export const LeftOutParams = Type.Object({
  photoId: Type.String({ pattern: '^[0-9a-f]{64}$' }),
  slot: Type.Integer({ minimum: 1, maximum: 8 }),
})
export const LeaveOutRequest = Type.Object(
  { reason: Type.String({ minLength: 1, maxLength: 200, pattern: '\\S' }) },
  { additionalProperties: false },
)
export const LeftOutList = Type.Object({ leftOut: Type.Array(LeftOut) })
export type LeftOutList = Static<typeof LeftOutList>

export const UploadId = Type.String({
  pattern: '^[0-9A-Za-z-]{16,64}$',
  description: 'made by the sender, so that an upload repeated after a lost connection counts once',
})
export const UploadParams = Type.Object({ uploadId: UploadId })

export const ReadingParams = Type.Object({ readingId: Type.String() })
export const PhotoParams = Type.Object({ photoId: Type.String({ pattern: '^[0-9a-f]{64}$' }) })

export const PictureQuery = Type.Object(
  { width: Type.Optional(Type.Integer({ minimum: 16, maximum: 8000, default: 1600, description: 'pixels' })) },
  { additionalProperties: false },
)
