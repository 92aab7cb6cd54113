import { useCallback, useState } from 'preact/hooks'
import type { Adapted } from '../../server/api/sheets.js'
import { formatExposures } from '../format.js'
import { findRecords } from '../records-client.js'
import { printAddress } from '../route.js'
import { adaptedOf } from '../texts/answers.js'
import { handOnTexts } from '../texts/hand-on.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { DecimalInput } from '../views/decimal-input.js'
import { FailureNote } from '../views/failure-note.js'
import { adaptSetting } from './sheets-client.js'

const words = handOnTexts.adapt
const MOST_PRINTERS = 100
const askPrinters = () => findRecords('printer', { limit: MOST_PRINTERS })

/** A setting carried to another printer: a first guess, and three rungs about it. */
export function AdaptPanel({ settingId, layerHeightUm }: { settingId: string; layerHeightUm: number }) {
  const { reply: printers } = useLoaded(useCallback(askPrinters, []), handOnTexts.failed)
  const [printerId, setPrinterId] = useState('')
  const [from, setFrom] = useState('')
  const [to, setTo] = useState('')
  const [answer, setAnswer] = useState<Adapted>()
  const { busy, failure, run } = useChange(handOnTexts.saveFailed)
  const carry = () =>
    run(async () =>
      setAnswer(
        await adaptSetting(settingId, {
          ...(printerId && { printerId }),
          ...(Number(from) > 0 && { fromMwPerCm2: Number(from) }),
          ...(Number(to) > 0 && { toMwPerCm2: Number(to) }),
        }),
      ),
    )
  const light = (label: string, value: string, set: (value: string) => void) => (
    <label class="field">
      <span>{label}</span>
      <DecimalInput min={0} value={value} onChange={set} />
    </label>
  )
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        carry()
      }}
    >
      <label class="field">
        <span>{words.printer}</span>
        <select value={printerId} onChange={(event) => setPrinterId(event.currentTarget.value)}>
          <option value="">{words.own}</option>
          {printers?.records.map(({ recordId, content }) => (
            <option key={recordId} value={recordId}>
              {content.name}
            </option>
          ))}
        </select>
      </label>
      {light(words.from, from, setFrom)}
      {light(words.to, to, setTo)}
      <button type="submit" disabled={busy}>
        {words.button}
      </button>
      {failure && <FailureNote failure={failure} />}
      <div role="status">
        {answer && (
          <>
            <p>{adaptedOf(answer)}</p>
            <p>
              <strong>{words.rungs(formatExposures(answer.threeRungsS))}</strong>
            </p>
            <a class="button" href={printAddress({ layerHeightUm, exposuresS: answer.threeRungsS })}>
              {words.print}
            </a>
          </>
        )}
      </div>
    </form>
  )
}
