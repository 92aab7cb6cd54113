import { useCallback, useState } from 'preact/hooks'
import type { SideBySide } from '../../server/api/sheets.js'
import { formatExposure, formatTime } from '../format.js'
import { findRecords } from '../records-client.js'
import { besideOf, sheetNameOf, sheetValueOf } from '../texts/answers.js'
import { handOnTexts } from '../texts/hand-on.js'
import { lifeTexts } from '../texts/life.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { TableHead } from '../views/table-head.js'
import { micrometres } from '../units.js'
import { compareSettings } from './sheets-client.js'

const words = handOnTexts.beside
const MOST_SETTINGS = 100
const askSettings = () => findRecords('setting', { limit: MOST_SETTINGS })

function SheetValue({ name, value, strong }: { name: string; value: string | undefined; strong: boolean }) {
  const said = value === undefined ? '–' : sheetValueOf(name, value)
  return strong ? <strong>{said}</strong> : <>{said}</>
}

/** Two settings side by side, what differs being marked. */
export function BesidePanel({ settingId }: { settingId: string }) {
  const { reply, failure } = useLoaded(useCallback(askSettings, []), handOnTexts.failed)
  const [other, setOther] = useState('')
  const [answer, setAnswer] = useState<SideBySide>()
  const { busy, failure: changeFailure, run } = useChange(handOnTexts.saveFailed)
  const failed = failure ?? changeFailure
  const others = reply?.records.filter(({ recordId }) => recordId !== settingId) ?? []
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        run(async () => setAnswer(await compareSettings(settingId, other)))
      }}
    >
      <label class="field">
        <span>{words.other}</span>
        <select required value={other} onChange={(event) => setOther(event.currentTarget.value)}>
          <option value="" />
          {others.map(({ recordId, content, createdAt }) => (
            <option key={recordId} value={recordId}>
              {`${formatExposure(content.exposureS)} s, ${micrometres(content.layerHeightUm)}, ${lifeTexts.records.origins[content.origin]}, ${formatTime(createdAt)}`}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" disabled={busy || other === ''}>
        {words.button}
      </button>
      {failed && <FailureNote failure={failed} />}
      {answer && (
        <>
          <p role="status">{besideOf(answer)}</p>
          <div>
            <table class="side-by-side">
              <TableHead names={[words.what, words.first, words.second]} />
              <tbody>
                {answer.rows.map(({ what, first, second, differs }) => (
                  <tr key={what}>
                    <th scope="row">{sheetNameOf(what)}</th>
                    <td>
                      <SheetValue name={what} value={first} strong={differs} />
                    </td>
                    <td>
                      <SheetValue name={what} value={second} strong={differs} />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
    </form>
  )
}
