import { useEffect, useId, useState } from 'preact/hooks'
import type { LayerHeightReply, LayerHeightRequest } from '../../server/api/planning.js'
import type { ReadingSummary } from '../../server/api/readings.js'
import { changeLayerHeight, listReadings } from '../api-client.js'
import { formatExposure, formatShort } from '../format.js'
import { planTexts } from '../texts/plan.js'
import { recall } from '../remembered.js'
import { NumberField } from '../views/number-field.js'
import { LayerHeightAnswer } from './layer-height-answer.js'
import { Caution, ToolForm } from './tool-parts.js'
import { umOfMm, useAnswer } from './use-answer.js'

const words = planTexts.layerHeight
const LISTED = 100

interface Source {
  readonly id: string
  readonly name: string
}

function sourcesOf(readings: readonly ReadingSummary[]): Source[] {
  return readings.flatMap(({ readingId: id, outcome }) => {
    const { design, suggestion } = outcome ?? {}
    if (!design || !suggestion) return []
    const layer = formatShort(design.layerHeightUm / 1000)
    return [{ id, name: words.reading(design.ladderId, formatExposure(suggestion.exposureS), layer) }]
  })
}

function Select(props: {
  label: string
  hint?: string
  empty: string
  sources: readonly Source[]
  value: string
  onChange: (id: string) => void
}) {
  const { label, hint, empty, sources, value, onChange } = props
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        {...(hint && { 'aria-describedby': `${id}-hint` })}
        onChange={(event) => onChange(event.currentTarget.value)}
      >
        <option value="">{empty}</option>
        {sources.map((source) => (
          <option key={source.id} value={source.id}>
            {source.name}
          </option>
        ))}
      </select>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}

/** Carries an exposure, or what a reading says, to another layer height. */
export function LayerHeight({ wish }: { wish: URLSearchParams }) {
  const wished = wish.get('reading') ?? ''
  const [sources, setSources] = useState<readonly Source[]>([])
  const [first, setFirst] = useState(wished)
  const [second, setSecond] = useState('')
  const [own, setOwn] = useState({ exposureS: '', fromMm: recall('layer-mm', '0.05') })
  const [toMm, setToMm] = useState('')
  const [depth, setDepth] = useState({ value: '', low: '', high: '' })
  const { reply, busy, failure, refuse, ask } = useAnswer<LayerHeightReply>()
  useEffect(() => {
    let gone = false
    listReadings(LISTED).then(
      ({ readings }) => !gone && setSources(sourcesOf(readings)),
      // One's own numbers work without the list.
      () => undefined,
    )
    return () => {
      gone = true
    }
  }, [])
  const listed =
    wished === '' || sources.some(({ id }) => id === wished)
      ? sources
      : [{ id: wished, name: words.thisReading }, ...sources]

  const work = () => {
    const known = Object.values(depth)
      .filter((typed) => typed !== '')
      .map(Number)
    const [value = NaN, low = NaN, high = NaN] = known
    const ordered = known.length === 3 && low <= value && value <= high
    if (known.length > 0 && !ordered) return refuse(words.depthMissing)
    const from: Pick<LayerHeightRequest, 'readingIds' | 'exposureS' | 'fromUm'> = first
      ? { readingIds: second && second !== first ? [first, second] : [first] }
      : { exposureS: Number(own.exposureS), fromUm: umOfMm(own.fromMm) }
    ask(() =>
      changeLayerHeight({
        ...from,
        toUm: umOfMm(toMm),
        timeStepS: Number(recall('time-step-s', '0.1')),
        ...(ordered && { depth: { valueUm: value, intervalUm: [low, high] } }),
      }),
    )
  }

  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <Select label={words.source} empty={words.own} sources={listed} value={first} onChange={setFirst} />
          {first ? (
            <Select
              label={words.second}
              hint={words.secondHint}
              empty={words.noSecond}
              sources={listed.filter(({ id }) => id !== first)}
              value={second}
              onChange={setSecond}
            />
          ) : (
            <div class="fields">
              <NumberField
                label={words.exposure}
                value={own.exposureS}
                onChange={(exposureS) => setOwn({ ...own, exposureS })}
                min={0.01}
                max={999}
                required
              />
              <NumberField
                label={words.from}
                value={own.fromMm}
                onChange={(fromMm) => setOwn({ ...own, fromMm })}
                min={0.01}
                max={0.3}
                required
              />
            </div>
          )}
          <NumberField label={words.to} value={toMm} onChange={setToMm} min={0.01} max={0.3} required />
          <details>
            <summary>{words.depth}</summary>
            <div class="fields">
              {(['value', 'low', 'high'] as const).map((name) => (
                <NumberField
                  key={name}
                  label={{ value: words.depthValue, low: words.depthLow, high: words.depthHigh }[name]}
                  value={depth[name]}
                  onChange={(typed) => setDepth({ ...depth, [name]: typed })}
                  min={1}
                />
              ))}
            </div>
            <p class="hint">{words.depthHint}</p>
          </details>
        </ToolForm>
        <div class="stack">
          {reply && <LayerHeightAnswer reply={reply} />}
          <Caution kind="print" />
        </div>
      </div>
    </>
  )
}
