import { useState } from 'preact/hooks'
import type { TakenIn } from '../../server/api/sheets.js'
import { formatExposure } from '../format.js'
import { settingAddress } from '../route.js'
import '../style/hand-on.css'
import { verifiedOf } from '../texts/answers.js'
import { handOnTexts } from '../texts/hand-on.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { nameKey, takeIn } from './sheets-client.js'

const words = handOnTexts.takeIn

/** A sheet from someone else becomes a setting marked as received. */
export function TakeInView() {
  const [taken, setTaken] = useState<TakenIn>()
  const { busy, failure, run } = useChange(words.failed)
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <section class="panel" aria-busy={busy}>
        <p>{words.text}</p>
        <label class="button main file-button">
          <input
            class="file"
            type="file"
            accept=".json,.html,.pdf,image/*"
            disabled={busy}
            onChange={(event) => {
              const file = event.currentTarget.files?.[0]
              event.currentTarget.value = ''
              if (!file) return
              setTaken(undefined)
              run(async () => setTaken(await takeIn(file)))
            }}
          />
          {busy ? words.working : words.choose}
        </label>
        {failure && <FailureNote failure={failure} />}
        <div role="status">{taken && <Taken taken={taken} />}</div>
      </section>
    </div>
  )
}

function Taken({ taken: { setting, sheet, verification } }: { taken: TakenIn }) {
  return (
    <>
      <p>
        <strong>{words.done(formatExposure(sheet.exposureS))}</strong>
      </p>
      {sheet.simulated && <p class="note bad">{words.simulated}</p>}
      <p>{verifiedOf(verification)}</p>
      {sheet.signature && verification.knownAs === undefined && <KeyName publicKey={sheet.signature.publicKey} />}
      <a class="button" href={settingAddress(setting.recordId)}>
        {words.open}
      </a>
    </>
  )
}

function KeyName({ publicKey }: { publicKey: string }) {
  const [name, setName] = useState('')
  const [saved, setSaved] = useState(false)
  const { busy, failure, run } = useChange(handOnTexts.saveFailed)
  if (saved) return <p>{words.keySaved}</p>
  return (
    <form
      class="buttons"
      onSubmit={(event) => {
        event.preventDefault()
        run(async () => {
          await nameKey(publicKey, name.trim())
          setSaved(true)
        })
      }}
    >
      <label class="field">
        <span>{words.nameKey}</span>
        <input
          type="text"
          required
          maxLength={60}
          value={name}
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <button type="submit" disabled={busy || name.trim() === ''}>
        {words.saveKey}
      </button>
      {failure && <FailureNote failure={failure} />}
    </form>
  )
}
