import { useCallback, useState } from 'preact/hooks'
import type { MeasuredValue, ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { getReading, overlayUrl } from '../api-client.js'
import { formatExpanded, formatExposure, formatTime } from '../format.js'
import { readingsOfLadder } from '../records-client.js'
import { ladderAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { ValueTable } from '../views/value-table.js'

const words = lifeTexts.pair
/** Beyond this many standard uncertainties a difference is more than noise (95 %). */
const SIGNIFICANT = 1.96

type Of = (rung: ReadLadder['rungs'][number]) => MeasuredValue | undefined
const growthOf: Of = (rung) =>
  'growthUm' in rung
    ? { value: rung.growthUm.value, standardUncertainty: rung.growthUm.withinPhotoUncertainty }
    : undefined
const hazeOf: Of = (rung) => ('haze' in rung ? rung.haze : undefined)

function differenceOf(a: MeasuredValue, b: MeasuredValue): string {
  const value = b.value - a.value
  const standardUncertainty = Math.hypot(a.standardUncertainty, b.standardUncertainty)
  const beyond = Math.abs(value) > SIGNIFICANT * standardUncertainty
  return `${formatExpanded({ value, standardUncertainty })}${beyond ? ' *' : ''}`
}

function Differences({ title, of, pair }: { title: string; of: Of; pair: readonly ReadLadder[] }) {
  const [first, second] = pair
  return (
    <ValueTable caption={title} head={Object.values(words.head)}>
      <tbody>
        {first?.rungs.map((rung, i) => {
          const other = second?.rungs[i]
          const a = of(rung)
          const b = other && of(other)
          return (
            <tr key={rung.slot}>
              <th scope="row">{formatExposure(rung.exposureS)} s</th>
              <td>{a ? formatExpanded(a) : words.notRead}</td>
              <td>{b ? formatExpanded(b) : words.notRead}</td>
              <td>{a && b ? differenceOf(a, b) : ''}</td>
            </tr>
          )
        })}
      </tbody>
    </ValueTable>
  )
}

const ladderOf = (reading: ReadingReply | undefined): ReadLadder | undefined =>
  reading?.result && 'rungs' in reading.result ? reading.result : undefined

/** Two photographs of one ladder side by side, and whether they differ by more than noise. */
export function PairView({ ladderId }: { ladderId: string }) {
  const list = useLoaded(
    useCallback(() => readingsOfLadder(ladderId), [ladderId]),
    words.failed,
  )
  const [chosen, setChosen] = useState<readonly (string | undefined)[]>([])
  const readable = list.reply?.readings.filter(({ outcome }) => outcome?.design) ?? []
  const photos = readable.filter(({ photoId }, i) => readable.findIndex((one) => one.photoId === photoId) === i)
  const ids = [chosen[0] ?? photos[1]?.readingId, chosen[1] ?? photos[0]?.readingId]
  const [firstId, secondId] = ids
  const both = useLoaded(
    useCallback(
      async () => (firstId && secondId ? Promise.all([getReading(firstId), getReading(secondId)]) : undefined),
      [firstId, secondId],
    ),
    words.failed,
  )
  const pair = both.reply?.map(ladderOf).filter((ladder) => ladder !== undefined) ?? []
  const failure = list.failure ?? both.failure
  return (
    <div class="print">
      <p>
        <a class="aside" href={ladderAddress(ladderId)}>
          {lifeTexts.ladders.ladder(ladderId)}
        </a>
      </p>
      <h1>{words.title}</h1>
      {failure && <FailureNote failure={failure} />}
      {list.reply && photos.length < 2 && <p>{words.needTwo}</p>}
      {photos.length > 1 && (
        <div class="pair">
          {([words.first, words.second] as const).map((label, side) => {
            const reading = photos.find(({ readingId }) => readingId === ids[side])
            return (
              <div key={label} class="stack">
                <div class="field">
                  <label for={`pair-${side}`}>{label}</label>
                  <select
                    id={`pair-${side}`}
                    value={ids[side]}
                    onChange={(event) => {
                      const { value } = event.currentTarget
                      setChosen(side === 0 ? [value, ids[1]] : [ids[0], value])
                    }}
                  >
                    {photos.map(({ readingId, photoName, createdAt }) => (
                      <option key={readingId} value={readingId} selected={readingId === ids[side]}>
                        {photoName}, {formatTime(createdAt)}
                      </option>
                    ))}
                  </select>
                </div>
                {reading && (
                  <a href={overlayUrl(reading.readingId)}>
                    <img class="pair-photo" src={overlayUrl(reading.readingId)} alt={words.alt(reading.photoName)} />
                  </a>
                )}
              </div>
            )
          })}
        </div>
      )}
      {pair.length === 2 && (
        <section class="panel">
          <Differences title={words.growth} of={growthOf} pair={pair} />
          <Differences title={words.haze} of={hazeOf} pair={pair} />
          <p class="hint">{words.note}</p>
        </section>
      )}
    </div>
  )
}
