import { useEffect, useState } from 'preact/hooks'
import type { ReadingList, ReadingSummary } from '../../server/api/readings.js'
import { listReadings } from '../api-client.js'
import { formatExposure, formatTime } from '../format.js'
import { readingAddress } from '../route.js'
import { levelName } from '../rung-words.js'
import { texts } from '../texts/page.js'
import { FailureNote, toFailure, type Failure } from './failure-note.js'

const PAGE = 12

function answerOf({ state, outcome }: ReadingSummary): string {
  const { history } = texts
  if (state === 'queued' || state === 'reading') return history.pending
  if (state === 'failed') return history.failedReading
  if (outcome?.refusal) return history.refused
  return answerValue(outcome) ?? history.noAnswer
}

/** The exposure to use, or the level of another factor. */
function answerValue(outcome: ReadingSummary['outcome']): string | undefined {
  const level = outcome?.process?.suggestion?.level
  if (outcome?.process && level !== undefined) return levelName(outcome.process.factor, level)
  return outcome?.suggestion && texts.history.answer(formatExposure(outcome.suggestion.exposureS))
}

function Entry({ reading }: { reading: ReadingSummary }) {
  const ladderId = reading.outcome?.design?.ladderId
  return (
    <li>
      <a class="entry" href={readingAddress(reading.readingId)}>
        <span class="entry-name">{ladderId ? texts.history.ladder(ladderId) : reading.photoName}</span>
        <span class={answerValue(reading.outcome) === undefined ? 'entry-answer none' : 'entry-answer'}>
          {answerOf(reading)}
        </span>
        <span class="entry-time">
          {formatTime(reading.createdAt)}
          {reading.simulated && <span class="badge">{texts.demo.badge}</span>}
        </span>
      </a>
    </li>
  )
}

/** What was read before, newest first, each with its answer. */
export function History() {
  const [limit, setLimit] = useState(PAGE)
  const [list, setList] = useState<ReadingList>()
  const [failure, setFailure] = useState<Failure>()
  useEffect(() => {
    let gone = false
    listReadings(limit).then(
      (loaded) => !gone && setList(loaded),
      (error: unknown) => !gone && setFailure(toFailure(error, texts.history.failed)),
    )
    return () => {
      gone = true
    }
  }, [limit])
  return (
    <section class="history" aria-labelledby="history">
      <h2 id="history">{texts.history.title}</h2>
      {failure && <FailureNote failure={failure} />}
      {list?.total === 0 && <p class="hint">{texts.history.empty}</p>}
      {list && list.total > 0 && (
        <ul class="entries">
          {list.readings.map((reading) => (
            <Entry key={reading.readingId} reading={reading} />
          ))}
        </ul>
      )}
      {list && list.total > list.readings.length && (
        <button type="button" onClick={() => setLimit(limit + 4 * PAGE)}>
          {texts.history.more}
        </button>
      )}
    </section>
  )
}
