import { useId, useState } from 'preact/hooks'
import { addRecord, changeRecord, type Contents, type RecordKind, type StoredRecord } from '../records-client.js'
import { lifeTexts } from '../texts/life.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { NumberField } from '../views/number-field.js'
import { recordFields, type RecordField } from './fields.js'
import { IrradianceField, type Irradiance } from './irradiance-field.js'
import { RecordLink } from './record-link.js'

const words = lifeTexts.records
type Values = Readonly<Record<string, unknown>>

const DEFAULTS: Partial<Record<RecordKind, Values>> = {
  setting: { origin: 'received' },
  report: { finding: 'brittle', date: new Date().toISOString().slice(0, 10) },
}

/** What is typed as the service takes it: empty fields are left out. */
function contentOf(fields: readonly RecordField[], values: Values): Values {
  const kept = fields.flatMap(({ name, kind }): [string, unknown][] => {
    const value = values[name]
    if (kind === 'irradiance') {
      const readings = (value ?? []) as Irradiance
      const clean = readings.map(({ place, ...rest }) => (place?.trim() ? { ...rest, place: place.trim() } : rest))
      return clean.length > 0 ? [[name, clean]] : []
    }
    const text = String((value as string | number | undefined) ?? '').trim()
    if (text === '') return []
    return [[name, kind === 'number' ? Number(text) : text]]
  })
  return Object.fromEntries(kept)
}

interface Props {
  readonly kind: RecordKind
  /** Default: a new one. */
  readonly record?: StoredRecord<Contents[RecordKind]>
  readonly onDone: () => void
  readonly onCancel: () => void
}

/** Adds a record or changes one. */
export function RecordForm({ kind, record, onDone, onCancel }: Props) {
  const fields: readonly RecordField[] = recordFields[kind]
  const [values, setValues] = useState<Values>({ ...DEFAULTS[kind], ...record?.content })
  const { busy, failure, run } = useChange(words.saveFailed)
  const title = useId()
  const save = () =>
    run(async () => {
      // What the form does not show, such as the interval of a setting, stays as it was.
      const shown = new Set(fields.map(({ name }) => name))
      const hidden = Object.entries(record?.content ?? {}).filter(([name]) => !shown.has(name))
      const content = { ...Object.fromEntries(hidden), ...contentOf(fields, values) } as unknown as Contents[RecordKind]
      await (record ? changeRecord(kind, record.recordId, { content }) : addRecord(kind, content))
      onDone()
    })
  return (
    <form class="panel" aria-labelledby={title} onSubmit={(event) => (event.preventDefault(), save())}>
      <h2 id={title}>{record ? words.change(words.one[kind]) : words.add(words.one[kind])}</h2>
      <div class="fields wide">
        {fields.map((field) => (
          <Field
            key={field.name}
            field={field}
            value={values[field.name]}
            onChange={(value) => setValues((before) => ({ ...before, [field.name]: value }))}
          />
        ))}
      </div>
      {failure && <FailureNote failure={failure} />}
      <div class="buttons">
        <button class="main" disabled={busy}>
          {words.save}
        </button>
        <button type="button" onClick={onCancel}>
          {words.cancel}
        </button>
      </div>
    </form>
  )
}

function Field(props: { field: RecordField; value: unknown; onChange: (value: unknown) => void }) {
  const { field, value, onChange } = props
  const { name, kind, required = false } = field
  const id = useId()
  const label = words.fields[name as keyof typeof words.fields]
  const text = String((value as string | number | undefined) ?? '')
  if (kind === 'irradiance') return <IrradianceField readings={(value ?? []) as Irradiance} onChange={onChange} />
  if (kind === 'resin' || kind === 'bottle' || kind === 'printer')
    return <RecordLink kind={kind} label={label} value={text} onChange={onChange} />
  if (kind === 'number')
    return (
      <NumberField
        label={label}
        value={text}
        onChange={onChange}
        required={required}
        {...(field.min === undefined ? {} : { min: field.min })}
        {...(field.max === undefined ? {} : { max: field.max })}
      />
    )
  return (
    <div class={kind === 'long' ? 'field long' : 'field'}>
      <label for={id}>{label}</label>
      {kind === 'origin' || kind === 'finding' ? (
        <select id={id} value={text} onChange={(event) => onChange(event.currentTarget.value)}>
          {Object.entries(kind === 'origin' ? words.origins : words.findings).map(([value, its]) => (
            <option key={value} value={value}>
              {its}
            </option>
          ))}
        </select>
      ) : kind === 'long' ? (
        <textarea
          id={id}
          rows={3}
          maxLength={2000}
          value={text}
          onInput={(event) => onChange(event.currentTarget.value)}
        />
      ) : (
        <input
          id={id}
          {...(kind === 'date' ? { type: 'date' as const } : { type: 'text' as const })}
          maxLength={name === 'name' ? 60 : 120}
          value={text}
          required={required}
          onInput={(event) => onChange(event.currentTarget.value)}
        />
      )}
    </div>
  )
}
