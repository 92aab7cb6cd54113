import { useState } from 'preact/hooks'
import type { ReadingReply } from '../../server/api/readings.js'
import { leaveOut, takeIn } from '../records-client.js'
import { lifeTexts } from '../texts/life.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from './failure-note.js'

const words = lifeTexts.leftOut

interface Props {
  readonly reading: ReadingReply
  readonly slot: number
  readonly reload: () => void
}

/** Takes one coupon out of the answer for a reason, or in again. */
export function LeaveOut({ reading: { photoId, leftOut }, slot, reload }: Props) {
  const [reason, setReason] = useState('')
  const { busy, failure, run } = useChange(words.failed)
  const now = leftOut.find((one) => one.slot === slot)
  const change = (act: () => Promise<unknown>) =>
    run(async () => {
      await act()
      reload()
    })
  if (now)
    return (
      <div class="note warning">
        <p>{words.note(now.reason)}</p>
        <button type="button" disabled={busy} onClick={() => change(() => takeIn(photoId, slot))}>
          {words.takeIn}
        </button>
        {failure && <FailureNote failure={failure} />}
      </div>
    )
  return (
    <details class="leave-out">
      <summary>{words.title}</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault()
          change(() => leaveOut(photoId, slot, reason.trim()))
        }}
      >
        <div class="field">
          <label for="leave-out-reason">{words.reason}</label>
          <input
            id="leave-out-reason"
            list="leave-out-reasons"
            maxLength={200}
            required
            value={reason}
            onInput={(event) => setReason(event.currentTarget.value)}
          />
          <datalist id="leave-out-reasons">
            {words.reasons.map((one) => (
              <option key={one} value={one} />
            ))}
          </datalist>
        </div>
        <button disabled={busy || reason.trim() === ''}>{words.leaveOut}</button>
        {failure && <FailureNote failure={failure} />}
      </form>
    </details>
  )
}
