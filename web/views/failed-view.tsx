import type { ReadingReply } from '../../server/api/readings.js'
import { texts } from '../texts.js'
import { useReadAgain } from '../use-read-again.js'
import { FailureNote } from './failure-note.js'

/** The reader broke off: a fault of the program. */
export function FailedView({ reading, reload }: { reading: ReadingReply; reload: () => void }) {
  const { failedTitle, failedText, readAgain } = texts.failure
  const { start, busy, failure } = useReadAgain(reading.readingId, reload)
  return (
    <section class="panel">
      <h1>{failedTitle}</h1>
      <p>{failedText}</p>
      {reading.failure && <FailureNote failure={reading.failure} />}
      {failure && <FailureNote failure={failure} />}
      <button type="button" class="main" disabled={busy} onClick={() => start(reading.options)}>
        {readAgain}
      </button>
    </section>
  )
}
