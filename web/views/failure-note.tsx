import { ServiceError } from '../api-client.js'
import { topicOf } from '../help/help-codes.js'
import { helpAddress } from '../route.js'
import { texts } from '../texts/page.js'

export interface Failure {
  readonly message: string
  readonly advice?: string | undefined
  /** The service's name for it. */
  readonly code?: string | undefined
}

/** What to tell when a request failed; `message` says what was being done. */
export function toFailure(error: unknown, message: string): Failure {
  if (!(error instanceof ServiceError)) throw error
  if (error.status === 0) return { message, advice: texts.failure.unreachable }
  return { message: `${message} ${error.message}`, advice: error.advice, code: error.code }
}

export function FailureNote({ failure }: { failure: Failure }) {
  const topic = topicOf(failure.code ?? '')
  return (
    <div class="note bad" role="alert">
      <p>{failure.message}</p>
      {failure.advice && <p>{failure.advice}</p>}
      {topic && (
        <a class="aside" href={helpAddress(topic)}>
          {texts.failure.help}
        </a>
      )}
    </div>
  )
}
