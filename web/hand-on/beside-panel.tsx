import { useCallback, useState } from 'preact/hooks'
import type { SideBySide } from '../../server/api/sheets.js'
import { formatExposure, formatTime } from '../format.js'
import { findRecords } from '../records-client.js'
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
          <p role="status">{answer.inWords}</p>
          <div>
            <table class="side-by-side">
              <TableHead names={[words.what, words.first, words.second]} />
              <tbody>
                {answer.rows.map(({ what, first, second, differs }) => (
                  <tr key={what}>
                    <th scope="row">{what}</th>
                    <td>{differs ? <strong>{first ?? '–'}</strong> : (first ?? '–')}</td>
                    <td>{differs ? <strong>{second ?? '–'}</strong> : (second ?? '–')}</td>
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
