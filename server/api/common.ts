import type { Readable } from 'node:stream'
import { Type, type Static } from 'typebox'

const reason = {
  code: Type.String({ description: 'stable name of the reason, for programs' }),
  message: Type.String({ description: 'what went wrong' }),
  advice: Type.String({ description: 'what to do next, for people' }),
}

const fields = Type.Optional(
  Type.Array(Type.String(), { description: 'paths of what was sent and is wrong, if that is the reason' }),
)

export const ErrorReply = Type.Object(
  { ...reason, fields },
  { $id: 'ErrorReply', description: 'Why there is no answer.' },
)
export type ErrorReply = Static<typeof ErrorReply>

/** The same as a part of an answer: a name may stand in a description only once. */
export const Reason = Type.Object(reason)

/** A file as the body of a reply. */
export const Binary = Type.Unsafe<Uint8Array>({ type: 'string', format: 'binary' })

/** The same, sent as it comes to be. */
export const BinaryStream = Type.Unsafe<Readable>({ type: 'string', format: 'binary' })

/** The failures any route may answer with. */
export const failures = { '4xx': ErrorReply, '5xx': ErrorReply }

export const State = Type.Object({ status: Type.Enum(['live', 'ready']) })
