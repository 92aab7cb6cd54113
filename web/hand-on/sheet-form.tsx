import { useState } from 'preact/hooks'
import { recallText, rememberText } from '../remembered.js'
import { handOnTexts } from '../texts/hand-on.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { makeSheet } from './sheets-client.js'

const words = handOnTexts.make
const NAME = 'sheet-made-by'

/** What a person adds to a sheet before it is made. */
export function SheetForm({ settingId, onMade }: { settingId: string; onMade: () => void }) {
  const [madeBy, setMadeBy] = useState(recallText(NAME) ?? '')
  const [note, setNote] = useState('')
  const [signed, setSigned] = useState(false)
  const [photo, setPhoto] = useState(true)
  const [said, setSaid] = useState('')
  const { busy, failure, run } = useChange(handOnTexts.saveFailed)
  const make = () =>
    run(async () => {
      rememberText(NAME, madeBy)
      const { sheetId } = await makeSheet(settingId, {
        ...(madeBy.trim() && { madeBy: madeBy.trim() }),
        ...(note.trim() && { note: note.trim() }),
        signed,
        photo,
      })
      setSaid(words.made(sheetId))
      onMade()
    })
  return (
    <form
      class="panel"
      aria-labelledby="make"
      onSubmit={(event) => {
        event.preventDefault()
        make()
      }}
    >
      <h2 id="make">{words.title}</h2>
      <p>{words.text}</p>
      <label class="field">
        <span>{words.madeBy}</span>
        <input type="text" maxLength={120} value={madeBy} onInput={(event) => setMadeBy(event.currentTarget.value)} />
      </label>
      <label class="field">
        <span>{words.note}</span>
        <textarea maxLength={500} rows={2} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <label class="choice">
        <input type="checkbox" checked={signed} onChange={(event) => setSigned(event.currentTarget.checked)} />
        {words.signed}
      </label>
      <label class="choice">
        <input type="checkbox" checked={photo} onChange={(event) => setPhoto(event.currentTarget.checked)} />
        {words.photo}
      </label>
      {failure && <FailureNote failure={failure} />}
      <div class="buttons">
        <button type="submit" class="main" disabled={busy}>
          {words.button}
        </button>
        <span role="status">{said}</span>
      </div>
    </form>
  )
}
