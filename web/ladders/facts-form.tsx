import { useState } from 'preact/hooks'
import type { LadderEntry, LadderFacts } from '../../server/api/ladders.js'
import { formatShort } from '../format.js'
import { changeLadder } from '../records-client.js'
import { RecordLink } from '../records/record-link.js'
import { lifeTexts } from '../texts/life.js'
import { processTexts } from '../texts/process.js'
import { useChange } from '../use-loaded.js'
import { FactList } from '../views/fact-list.js'
import { FailureNote } from '../views/failure-note.js'
import { NumberField } from '../views/number-field.js'
import { rungName } from '../rung-words.js'

const words = lifeTexts.ladder
const ageingWords = processTexts.ageing

interface Props {
  readonly ladder: LadderEntry
  readonly onChanged: (ladder: LadderEntry) => void
}

/** What is known of a ladder besides its design, and the form to change it. */
export function FactsForm({ ladder, onChanged }: Props) {
  const [editing, setEditing] = useState(false)
  const { facts, bottle, printer } = ladder
  if (editing) return <Editor ladder={ladder} onChanged={onChanged} close={() => setEditing(false)} />
  return (
    <section class="panel" aria-labelledby="facts">
      <h2 id="facts">{words.about}</h2>
      <FactList
        compact
        facts={[
          [words.bottle, bottle ?? words.nothing],
          [words.printer, printer ?? words.nothing],
          ...(facts.temperatureC === undefined
            ? []
            : [[words.temperature, words.temperatureValue(formatShort(facts.temperatureC))] as const]),
          ...(facts.turnedSlots?.length ? [[words.turned, facts.turnedSlots.join(', ')] as const] : []),
          ...(facts.remeasure ? [[ageingWords.wished, ageingWords.wishedValue] as const] : []),
          ...(facts.note ? [[words.note, facts.note] as const] : []),
        ]}
      />
      <button type="button" onClick={() => setEditing(true)}>
        {words.edit}
      </button>
    </section>
  )
}

function Editor({ ladder, onChanged, close }: Props & { readonly close: () => void }) {
  const { design, facts } = ladder
  const [bottleId, setBottleId] = useState(facts.bottleId ?? '')
  const [printerId, setPrinterId] = useState(facts.printerId ?? '')
  const [temperature, setTemperature] = useState(String(facts.temperatureC ?? ''))
  const [note, setNote] = useState(facts.note ?? '')
  const [turned, setTurned] = useState<readonly number[]>(facts.turnedSlots ?? [])
  const [remeasure, setRemeasure] = useState(facts.remeasure ?? false)
  const { busy, failure, run } = useChange(words.saveFailed)
  const save = () =>
    run(async () => {
      const {
        bottleId: _b,
        printerId: _p,
        temperatureC: _t,
        turnedSlots: _s,
        note: _n,
        remeasure: _r,
        ...others
      } = facts
      const changed: LadderFacts = {
        ...others,
        ...(bottleId && { bottleId }),
        ...(printerId && { printerId }),
        ...(temperature && { temperatureC: Number(temperature) }),
        ...(turned.length > 0 && { turnedSlots: [...turned].sort((a, b) => a - b) }),
        ...(remeasure && { remeasure }),
        ...(note.trim() && { note: note.trim() }),
      }
      onChanged(await changeLadder(design.ladderId, { facts: changed }))
      close()
    })
  const toggle = (slot: number) =>
    setTurned(turned.includes(slot) ? turned.filter((other) => other !== slot) : [...turned, slot])
  return (
    <form class="panel" aria-labelledby="facts" onSubmit={(event) => (event.preventDefault(), save())}>
      <h2 id="facts">{words.about}</h2>
      <div class="fields">
        <RecordLink kind="bottle" label={words.bottle} value={bottleId} onChange={setBottleId} />
        <RecordLink kind="printer" label={words.printer} value={printerId} onChange={setPrinterId} />
        <NumberField label={words.temperature} value={temperature} onChange={setTemperature} min={-20} max={100} />
      </div>
      <fieldset>
        <legend>{words.turned}</legend>
        <p class="hint">{words.turnedHint}</p>
        <div class="choices">
          {design.exposuresS.map((_, i) => (
            <label key={i} class="choice">
              <input type="checkbox" checked={turned.includes(i + 1)} onChange={() => toggle(i + 1)} />
              {words.turnedSlot(i + 1, rungName(design, i + 1))}
            </label>
          ))}
        </div>
      </fieldset>
      <label class="choice">
        <input type="checkbox" checked={remeasure} onChange={(event) => setRemeasure(event.currentTarget.checked)} />
        {ageingWords.wish}
      </label>
      <div class="field">
        <label for="ladder-note">{words.note}</label>
        <textarea
          id="ladder-note"
          rows={3}
          maxLength={2000}
          value={note}
          onInput={(event) => setNote(event.currentTarget.value)}
        />
      </div>
      {failure && <FailureNote failure={failure} />}
      <div class="buttons">
        <button class="main" disabled={busy}>
          {words.save}
        </button>
        <button type="button" onClick={close}>
          {words.cancel}
        </button>
      </div>
    </form>
  )
}
