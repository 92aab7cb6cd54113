import type { Printer } from '../../server/api/records.js'
import { useCallback, useId } from 'preact/hooks'
import { findRecords } from '../records-client.js'
import { recordsAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { useLoaded } from '../use-loaded.js'

const words = lifeTexts.ladder

interface Props {
  readonly kind: 'resin' | 'bottle' | 'printer'
  readonly label: string
  readonly value: string
  readonly onChange: (recordId: string) => void
  /** Told what a chosen printer is like. */
  readonly onChosen?: (printer: Printer) => void
}

/** Chooses a record by its name; the way to add one stands beside it. */
export function RecordLink({ kind, label, value, onChange, onChosen }: Props) {
  const id = useId()
  const ask = useCallback(() => findRecords(kind, { limit: 500 }), [kind])
  const { reply } = useLoaded(ask, lifeTexts.records.failed)
  const records = reply?.records ?? []
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => {
          const chosen = records.find(({ recordId }) => recordId === event.currentTarget.value)?.content
          onChange(event.currentTarget.value)
          if (chosen && 'pixelPitchUm' in chosen) onChosen?.(chosen)
        }}
      >
        <option value="">{words.nothing}</option>
        {value !== '' && !records.some(({ recordId }) => recordId === value) && <option value={value}>…</option>}
        {records.map(({ recordId, content }) => (
          <option key={recordId} value={recordId} selected={recordId === value}>
            {content.name}
          </option>
        ))}
      </select>
      <p class="hint">
        <a class="aside" href={recordsAddress(kind)}>
          {words.addNew(lifeTexts.records.one[kind])}
        </a>
      </p>
    </div>
  )
}
