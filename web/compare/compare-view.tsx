import { useEffect, useState } from 'preact/hooks'
import type { CompareBy, CompareOf, Comparison } from '../../server/api/compare.js'
import type { ReadingSummary } from '../../server/api/readings.js'
import { getComparison, labelLadder, listReadings } from '../api-client.js'
import { capital, formatTime } from '../format.js'
import { FailureNote, toFailure, type Failure } from '../views/failure-note.js'
import { compareTexts as words } from '../texts/compare.js'
import { ComparisonPanel } from './comparison-panel.js'

const SHOWN = 40
const LABELS = {
  bottle: 'bottle',
  batch: 'batch',
  printer: 'printer',
  'post-cure': 'postCure',
  finish: 'finish',
} as const
const isLabel = (by: CompareBy): by is keyof typeof LABELS => by in LABELS

function Choice<T extends string>(props: {
  id: string
  label: string
  value: T
  of: Record<T, string>
  set: (value: T) => void
}) {
  return (
    <div class="field">
      <label for={props.id}>{props.label}</label>
      <select id={props.id} value={props.value} onChange={(event) => props.set(event.currentTarget.value as T)}>
        {(Object.entries(props.of) as [T, string][]).map(([value, name]) => (
          <option key={value} value={value}>
            {name}
          </option>
        ))}
      </select>
    </div>
  )
}

/** Choose photographs, say what their coupons are of, and see whether they differ. */
export function CompareView() {
  const [readings, setReadings] = useState<readonly ReadingSummary[]>([])
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const [by, setBy] = useState<CompareBy>('bottle')
  const [of, setOf] = useState<CompareOf>('haze')
  const [labels, setLabels] = useState<Readonly<Record<string, string>>>({})
  const [comparison, setComparison] = useState<Comparison>()
  const [failure, setFailure] = useState<Failure>()
  useEffect(() => {
    listReadings(SHOWN).then(
      (list) => setReadings(list.readings.filter(({ outcome }) => outcome?.design)),
      (error: unknown) => setFailure(toFailure(error, words.failed)),
    )
  }, [])
  const ladders = [
    ...new Set(
      readings.flatMap(({ readingId, outcome }) => (chosen.has(readingId) ? [outcome!.design!.ladderId] : [])),
    ),
  ]
  const toggle = (readingId: string) =>
    setChosen((before) => {
      const after = new Set(before)
      if (!after.delete(readingId)) after.add(readingId)
      return after
    })
  const compare = async () => {
    setFailure(undefined)
    try {
      if (isLabel(by)) {
        const name = LABELS[by]
        for (const ladderId of ladders) {
          const label = labels[`${by} ${ladderId}`]
          if (label !== undefined) await labelLadder(ladderId, { [name]: label })
        }
      }
      setComparison(await getComparison([...chosen], by, of))
    } catch (error) {
      setComparison(undefined)
      setFailure(toFailure(error, words.failed))
    }
  }
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <p class="lead">{words.lead}</p>
      <form class="panel" onSubmit={(event) => (event.preventDefault(), void compare())}>
        <div class="fields wide">
          <Choice id="compare-by" label={words.by} value={by} of={words.bys} set={setBy} />
          <Choice id="compare-of" label={words.of} value={of} of={words.ofs} set={setOf} />
        </div>
        <fieldset>
          <legend>{words.readings}</legend>
          {readings.length === 0 && <p class="hint">{words.none}</p>}
          {readings.map(({ readingId, outcome, photoName, createdAt }) => (
            <label key={readingId} class="check">
              <input type="checkbox" checked={chosen.has(readingId)} onChange={() => toggle(readingId)} />
              {` ${outcome!.design!.ladderId} · ${photoName} · ${formatTime(createdAt)}`}
            </label>
          ))}
        </fieldset>
        {isLabel(by) && (
          <div class="fields">
            {ladders.map((ladderId) => (
              <div key={ladderId} class="field">
                <label for={`label-${ladderId}`}>{capital(words.labelOf(ladderId, words.bys[by]))}</label>
                <input
                  type="text"
                  id={`label-${ladderId}`}
                  maxLength={60}
                  value={labels[`${by} ${ladderId}`] ?? ''}
                  onInput={(event) => setLabels({ ...labels, [`${by} ${ladderId}`]: event.currentTarget.value })}
                />
              </div>
            ))}
          </div>
        )}
        {isLabel(by) && ladders.length > 0 && <p class="hint">{words.labelHint}</p>}
        <button type="submit" class="main" disabled={chosen.size === 0}>
          {words.go}
        </button>
      </form>
      {failure && <FailureNote failure={failure} />}
      {comparison && <ComparisonPanel comparison={comparison} />}
    </div>
  )
}
