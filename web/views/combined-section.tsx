import { useEffect, useState } from 'preact/hooks'
import type { LadderDesign } from '../../server/api/ladders.js'
import type { CombinedReply, CombinedRung } from '../../server/api/readings.js'
import { getCombined } from '../api-client.js'
import { formatExpanded, formatExposure, formatNumber, formatRange, formatTime } from '../format.js'
import { readingAddress } from '../route.js'
import { ProcessAnswer } from '../process/process-answer.js'
import { rungName } from '../rung-words.js'
import { confidenceOf } from '../texts/conclusions.js'
import { texts } from '../texts/page.js'
import { inMil } from '../units.js'
import { FactList, type Fact } from './fact-list.js'
import { FailureNote, toFailure, type Failure } from './failure-note.js'
import { RefusalList } from './refusal-list.js'

const words = texts.combined

function answerOf({ combined }: CombinedReply): Fact[] {
  const { suggestion } = combined ?? {}
  if (!suggestion) return []
  return [
    [words.exposure, words.exposureValue(formatExposure(suggestion.exposureS), formatRange(suggestion.intervalS))],
    [words.sure, confidenceOf(suggestion)],
  ]
}

const growthOf = (rung: CombinedRung, design: LadderDesign): Fact => [
  rungName(design, rung.slot),
  'growthUm' in rung
    ? `${words.growth(formatExpanded(rung.growthUm), rung.photos)}${inMil(rung.growthUm.value)}`
    : words.notRead,
]

/** One answer from all photographs of the ladder, each of which can be left out; nothing while there is only one. */
export function CombinedSection({ ladderId }: { ladderId: string }) {
  const [without, setWithout] = useState<readonly string[]>([])
  const [reply, setReply] = useState<CombinedReply>()
  const [failure, setFailure] = useState<Failure>()
  useEffect(() => {
    let gone = false
    getCombined(ladderId, without).then(
      (loaded) => !gone && setReply(loaded),
      (error: unknown) => !gone && setFailure(toFailure(error, words.failed)),
    )
    return () => {
      gone = true
    }
  }, [ladderId, without])
  if (failure) return <FailureNote failure={failure} />
  if (!reply || reply.readings.length < 2) return null
  const used = reply.readings.filter((reading) => reading.used)
  const offsetOf = (photoId: string) => {
    const place = used.findIndex((reading) => reading.photoId === photoId)
    return reply.combined?.photos[place]?.offsetUm
  }
  const reasons = [
    ...(reply.refusal ? [reply.refusal] : []),
    ...(reply.combined?.noSuggestion ? [reply.combined.noSuggestion] : []),
    ...(reply.combined?.warnings ?? []),
  ]
  const toggle = (photoId: string) =>
    setWithout(without.includes(photoId) ? without.filter((id) => id !== photoId) : [...without, photoId])
  return (
    <details class="panel quiet options">
      <summary>{words.title(reply.readings.length)}</summary>
      <p class="hint">{words.lead}</p>
      <FactList facts={answerOf(reply)} />
      {reasons.length > 0 && <RefusalList refusals={reasons} />}
      {reply.combined?.process && <ProcessAnswer process={reply.combined.process} inside />}
      {reply.combined && (
        <FactList facts={reply.combined.rungs.map((rung) => growthOf(rung, reply.combined!.design))} compact />
      )}
      <fieldset>
        <legend>{words.photos}</legend>
        {reply.readings.map(({ photoId, readingId, photoName, createdAt }) => {
          const offsetUm = offsetOf(photoId)
          return (
            <div key={photoId} class="buttons">
              <label class="check">
                <input type="checkbox" checked={!without.includes(photoId)} onChange={() => toggle(photoId)} />
                {words.photo(photoName, formatTime(createdAt))}
              </label>
              {offsetUm !== undefined && (
                <span class="hint">
                  {words.offset(formatNumber(offsetUm, 1))}
                  {inMil(offsetUm)}
                </span>
              )}
              <a class="aside" href={readingAddress(readingId)} aria-label={words.open(photoName)}>
                {words.show}
              </a>
            </div>
          )
        })}
      </fieldset>
    </details>
  )
}
