import { ServiceError } from '../api-client.js'
import { texts } from '../texts/page.js'

export interface Failure {
  readonly message: string
  readonly advice?: string | undefined
}

/** What to tell when a request failed; `message` says what was being done. */
export function toFailure(error: unknown, message: string): Failure {
  if (!(error instanceof ServiceError)) throw error
  if (error.status === 0) return { message, advice: texts.failure.unreachable }
  return { message: `${message} ${error.message}`, advice: error.advice }
}

export const FailureNote = ({ failure }: { failure: Failure }) => (
  <div class="note bad" role="alert">
    <p>{failure.message}</p>
    {failure.advice && <p>{failure.advice}</p>}
  </div>
)
