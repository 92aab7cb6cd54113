import type { ReadingReply } from '../../server/api/readings.js'
import { texts } from '../texts/page.js'
import { inLanguage } from '../texts/failures.js'
import { lifeTexts } from '../texts/life.js'
import { useReadAgain } from '../use-read-again.js'
import { FailureNote } from './failure-note.js'

/** No result: the reader broke off, or another version of the program made it. */
export function FailedView({ reading, reload }: { reading: ReadingReply; reload: () => void }) {
  const { failedTitle, failedText, readAgain } = texts.failure
  const outdated = reading.state === 'outdated'
  const { start, busy, failure } = useReadAgain(reading.readingId, reload)
  return (
    <section class="panel">
      <h1>{outdated ? lifeTexts.outdated.title : failedTitle}</h1>
      <p>{outdated ? lifeTexts.outdated.text : failedText}</p>
      {reading.failure && <FailureNote failure={{ ...inLanguage(reading.failure), code: reading.failure.code }} />}
      {failure && <FailureNote failure={failure} />}
      <button type="button" class="main" disabled={busy} onClick={() => start(reading.options)}>
        {readAgain}
      </button>
    </section>
  )
}
