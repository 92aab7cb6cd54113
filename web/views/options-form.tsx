import { useState } from 'preact/hooks'
import type { ReadingOptions, ReadingReply } from '../../server/api/readings.js'
import { texts } from '../texts/page.js'
import { useReadAgain } from '../use-read-again.js'
import { FailureNote } from './failure-note.js'
import { NumberField } from './number-field.js'

const words = texts.options
const fields = [
  { name: 'toleranceUm', label: words.tolerance, min: 1 },
  { name: 'timeStepS', label: words.timeStep, min: 0.01 },
  { name: 'smallestLineUm', label: words.smallestLine, min: 1, hint: words.optional },
  { name: 'smallestSpaceUm', label: words.smallestSpace, min: 1, hint: words.optional },
] as const satisfies { name: keyof ReadingOptions; label: string; min: number; hint?: string }[]
type FieldName = (typeof fields)[number]['name']

/** Asks for another reading of the same photograph with other wishes; an empty field leaves the service's default. */
export function OptionsForm({ reading, reload }: { reading: ReadingReply; reload: () => void }) {
  const { readingId, options } = reading
  const [wishes, setWishes] = useState<Partial<Record<FieldName, string>>>({})
  const { start, busy, failure } = useReadAgain(readingId, reload)
  const wishOf = (name: FieldName) => wishes[name] ?? String(options[name] ?? '')
  const apply = (event: Event) => {
    event.preventDefault()
    const given = fields.filter(({ name }) => wishOf(name) !== '').map(({ name }) => [name, Number(wishOf(name))])
    const { caliperMm, caliperUncertaintyMm, turnedSlots } = options
    start({
      ...(caliperMm && { caliperMm }),
      ...(turnedSlots && { turnedSlots }),
      ...(caliperUncertaintyMm !== undefined && { caliperUncertaintyMm }),
      ...(Object.fromEntries(given) as ReadingOptions),
    })
  }
  return (
    <details class="panel quiet options">
      <summary>{words.title}</summary>
      <form onSubmit={apply}>
        {fields.map(({ name, ...field }) => (
          <NumberField
            key={name}
            {...field}
            value={wishOf(name)}
            onChange={(value) => setWishes({ ...wishes, [name]: value })}
          />
        ))}
        {failure && <FailureNote failure={failure} />}
        <button class="main" disabled={busy}>
          {words.apply}
        </button>
      </form>
    </details>
  )
}
