import { useCallback, useState } from 'preact/hooks'
import { formatTime } from '../format.js'
import { handOnTexts } from '../texts/hand-on.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { linksOf, makeLink, revokeLink } from './sheets-client.js'

const words = handOnTexts.links
const DAYS = 30

/** Links to one sheet: made, counted, revoked. */
export function LinksPanel({ sheetId }: { sheetId: string }) {
  const ask = useCallback(() => linksOf(sheetId), [sheetId])
  const { reply, failure, reload } = useLoaded(ask, handOnTexts.failed)
  const { busy, failure: changeFailure, run } = useChange(handOnTexts.saveFailed)
  const [days, setDays] = useState(String(DAYS))
  const [address, setAddress] = useState<string>()
  const failed = failure ?? changeFailure
  return (
    <>
      <p>{words.text}</p>
      <form
        class="buttons"
        onSubmit={(event) => {
          event.preventDefault()
          run(async () => {
            const { path } = await makeLink(sheetId, Number(days))
            setAddress(new URL(path, window.location.origin).href)
            reload()
          })
        }}
      >
        <label class="field">
          <span>{words.days}</span>
          <input
            type="number"
            min={1}
            max={366}
            required
            value={days}
            onInput={(event) => setDays(event.currentTarget.value)}
          />
        </label>
        <button type="submit" disabled={busy}>
          {words.make}
        </button>
      </form>
      <div role="status">
        {address !== undefined && (
          <p class="buttons">
            <span>{words.newOne}</span>
            <code class="address">{address}</code>
            <button type="button" onClick={() => run(() => navigator.clipboard.writeText(address))}>
              {words.copy}
            </button>
          </p>
        )}
      </div>
      {failed && <FailureNote failure={failed} />}
      <ul class="entries">
        {reply?.links.map(({ linkId, createdAt, expiresAt, revokedAt, views }) => (
          <li key={linkId} class="record">
            <span>{words.one(formatTime(createdAt), formatTime(expiresAt), views)}</span>
            {revokedAt === undefined ? (
              <button
                type="button"
                disabled={busy}
                onClick={() =>
                  run(async () => {
                    await revokeLink(sheetId, linkId)
                    reload()
                  })
                }
              >
                {words.revoke}
              </button>
            ) : (
              <span class="hint">{words.revoked}</span>
            )}
          </li>
        ))}
      </ul>
    </>
  )
}
